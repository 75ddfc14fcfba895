import { describe, expect, test } from 'vitest'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { readBay } from './read.ts'

// biome-ignore lint/suspicious/noExplicitAny: tests put anything anywhere
type Anything = any
const changed = (change: (bay: Anything) => void): string => {
  const bay: Anything = sampleBay()
  change(bay)
  return JSON.stringify(bay, null, 1)
}
const faultsOf = (text: string) => {
  const read = readBay(text, 'my.bay.json')
  return read.ok ? [] : read.faults
}

test('the sample is read as it stands', () => {
  const read = readBay(JSON.stringify(sampleBay()), 'my.bay.json')
  expect(read).toEqual({ ok: true, value: sampleBay() })
  expect(readBay(`\uFEFF${JSON.stringify(sampleBay())}`).ok).toBe(true)
})

/** One change, one fault: its code, item, field, what was expected (in part), what was found, the nearest name. */
type Row = [
  what: string,
  change: (bay: Anything) => void,
  code: string,
  item: string | undefined,
  field: string,
  expected: string,
  got?: unknown,
  nearest?: string,
]

const rows: Row[] = [
  // Fields
  [
    'an unknown field at the top',
    (b) => (b.keepouts = []),
    'unknown-field',
    undefined,
    'keepouts',
    'one of format',
    [],
    'keepOuts',
  ],
  [
    'a field of a later version',
    (b) => (b.candidates[0].readings = []),
    'unknown-field',
    'wide',
    'candidates[0].readings',
    'one of id, name',
    [],
  ],
  [
    'an unknown field in a shape',
    (b) => (b.keepOuts[0].shape.sise = 3),
    'unknown-field',
    'beam',
    'keepOuts[0].shape.sise',
    'one of kind, at, size, turn',
    3,
    'size',
  ],
  [
    'an unknown field with an odd name',
    (b) => (b['a\u001b[31mb'] = 1),
    'unknown-field',
    undefined,
    '"a\\u001b[31mb"',
    'one of format',
    1,
  ],
  ['a missing field', (b) => delete b.keepOuts[0].role, 'missing-field', 'beam', 'keepOuts[0].role', 'one of "safety"'],
  [
    'a missing number',
    (b) => delete b.candidates[0].core.depth,
    'missing-field',
    'wide',
    'candidates[0].core.depth',
    'a number',
  ],
  [
    'a missing kind',
    (b) => delete b.keepOuts[0].shape.kind,
    'missing-field',
    'beam',
    'keepOuts[0].shape.kind',
    'one of "box"',
  ],
  ['a number for the benders', (b) => (b.benders = 1), 'wrong-type', undefined, 'benders', 'a list', 1],
  ['no keep-outs at all', (b) => delete b.keepOuts, 'missing-field', undefined, 'keepOuts', 'a list'],
  // Types and values
  [
    'text for a number',
    (b) => (b.candidates[0].core.depth = '90'),
    'wrong-type',
    'wide',
    'candidates[0].core.depth',
    'a number',
    '90',
  ],
  [
    'null for a number',
    (b) => (b.candidates[0].core.depth = null),
    'wrong-type',
    'wide',
    'candidates[0].core.depth',
    'a number',
    null,
  ],
  ['a number for a name', (b) => (b.name = 5), 'wrong-type', undefined, 'name', 'text', 5],
  [
    'a number for yes or no',
    (b) => (b.keepOuts[0].mirror = 1),
    'wrong-type',
    'beam',
    'keepOuts[0].mirror',
    'true or false',
    1,
  ],
  ['an object for a list', (b) => (b.keepOuts = {}), 'wrong-type', undefined, 'keepOuts', 'a list', {}],
  ['a list for an object', (b) => (b.frame = []), 'wrong-type', undefined, 'frame', 'an object', []],
  [
    'an unknown role',
    (b) => (b.keepOuts[0].role = 'saftey'),
    'wrong-value',
    'beam',
    'keepOuts[0].role',
    'one of "safety", "lamp"',
    'saftey',
    'safety',
  ],
  [
    'an unknown shape',
    (b) => (b.keepOuts[0].shape.kind = 'bax'),
    'wrong-value',
    'beam',
    'keepOuts[0].shape.kind',
    '"box"',
    'bax',
    'box',
  ],
  [
    'unknown units',
    (b) => (b.units = 'inches'),
    'wrong-value',
    undefined,
    'units',
    'one of "mm", "inch"',
    'inches',
    'inch',
  ],
  [
    'a bad id',
    (b) => (b.keepOuts[0].id = 'Beam 1'),
    'wrong-format',
    'Beam 1',
    'keepOuts[0].id',
    'lower-case letters',
    'Beam 1',
  ],
  [
    'an empty name',
    (b) => (b.keepOuts[0].name = ''),
    'empty-text',
    'beam',
    'keepOuts[0].name',
    'at least 1 character',
    '',
  ],
  [
    'a name without end',
    (b) => (b.keepOuts[0].name = 'x'.repeat(300)),
    'too-long',
    'beam',
    'keepOuts[0].name',
    'at most 200',
    `${'x'.repeat(79)}…`,
  ],
  [
    'a name that steers the terminal',
    (b) => (b.keepOuts[0].name = 'Be\u001b[2Jam'),
    'unprintable-text',
    'beam',
    'keepOuts[0].name',
    'without control',
    'U+001B',
  ],
  [
    'a name that turns its text round',
    (b) => (b.name = 'Bay \u202egnp'),
    'unprintable-text',
    undefined,
    'name',
    'without control',
    'U+202E',
  ],
  // Numbers
  [
    'a size of zero',
    (b) => (b.keepOuts[0].shape.size = [60, 0, 120]),
    'too-small',
    'beam',
    'keepOuts[0].shape.size[1]',
    'more than 0',
    0,
  ],
  [
    'a negative size',
    (b) => (b.candidates[0].core.height = -260),
    'too-small',
    'wide',
    'candidates[0].core.height',
    'more than 0',
    -260,
  ],
  [
    'a negative clearance',
    (b) => (b.keepOuts[0].clearance = -1),
    'too-small',
    'beam',
    'keepOuts[0].clearance',
    'at least 0',
    -1,
  ],
  [
    'a length of a planet',
    (b) => (b.candidates[0].at = [1e9, 0, 0]),
    'too-large',
    'wide',
    'candidates[0].at[0]',
    'at most 10000000',
    1e9,
  ],
  [
    'a clearance that overflows the margin',
    (b) => (b.keepOuts[0].clearance = 1.7e308),
    'too-large',
    'beam',
    'keepOuts[0].clearance',
    'at most 10000000',
    1.7e308,
  ],
  [
    'two numbers for a point',
    (b) => (b.candidates[0].at = [0, 0]),
    'wrong-count',
    'wide',
    'candidates[0].at',
    'a list of 3',
    [0, 0],
  ],
  [
    'four numbers for a point',
    (b) => (b.candidates[0].at = [0, 0, 0, 0]),
    'wrong-count',
    'wide',
    'candidates[0].at',
    'a list of 3',
    [0, 0, 0, 0],
  ],
  [
    'a zero direction',
    (b) => (b.ports[0].direction = [0, 0, 0]),
    'wrong-value',
    'turbo',
    'ports[0].direction',
    'a vector that is not zero',
    [0, 0, 0],
  ],
  [
    'a zero normal',
    (b) => (b.keepOuts[2].shape.normal = [0, 0, 0]),
    'wrong-value',
    'floor',
    'keepOuts[2].shape.normal',
    'a vector that is not zero',
    [0, 0, 0],
  ],
  [
    'three points for a hull',
    (b) => b.keepOuts[1].shape.points.pop(),
    'too-few',
    'lamp',
    'keepOuts[1].shape.points',
    'at least 4',
    [
      [-200, 500, 300],
      [-100, 500, 300],
      [-150, 600, 300],
    ],
  ],
  [
    'an outline of two points',
    (b) => b.openings[0].outline.splice(2),
    'too-few',
    'lower',
    'openings[0].outline',
    'at least 3',
    [
      [-300, 0],
      [300, 0],
    ],
  ],
  [
    'more keep-outs than anyone has',
    (b) => b.keepOuts.push(...Array.from({ length: 994 }, (_, i) => ({ ...b.keepOuts[0], id: `k${i}` }))),
    'too-many',
    undefined,
    'keepOuts',
    'at most 1000',
    'a list of 1001',
  ],
  [
    'a port beyond its face',
    (b) => (b.candidates[0].tanks.left.ports[0].u = 1.2),
    'too-large',
    'in',
    'candidates[0].tanks.left.ports[0].u',
    'at most 1',
    1.2,
  ],
  [
    'a taper that widens',
    (b) => (b.candidates[0].tanks.left.taper.depth = 1.2),
    'too-large',
    'wide',
    'candidates[0].tanks.left.taper.depth',
    'at most 1',
    1.2,
  ],
  [
    'an outline that crosses itself',
    (b) =>
      (b.openings[0].outline = [
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ]),
    'self-crossing',
    'lower',
    'openings[0].outline',
    'edges',
    {
      edges: [
        [0, 1],
        [2, 3],
      ],
    },
  ],
  // Names
  [
    'two keep-outs of one id',
    (b) => (b.keepOuts[4].id = 'beam'),
    'duplicate-id',
    'beam',
    'keepOuts[4].id',
    'an id of its own',
    'beam',
  ],
  [
    'two ports of one id',
    (b) => b.ports.push(b.ports[0]),
    'duplicate-id',
    'turbo',
    'ports[2].id',
    'an id of its own',
    'turbo',
  ],
  [
    'two openings of one id',
    (b) => b.openings.push(b.openings[0]),
    'duplicate-id',
    'lower',
    'openings[1].id',
    'an id of its own',
    'lower',
  ],
  [
    'two candidates of one id',
    (b) => b.candidates.push(b.candidates[0]),
    'duplicate-id',
    'wide',
    'candidates[1].id',
    'an id of its own',
    'wide',
  ],
  [
    'two benders of one id',
    (b) => b.benders.push(b.benders[0]),
    'duplicate-id',
    'shop',
    'benders[1].id',
    'an id of its own',
    'shop',
  ],
  [
    'two pipes of one id',
    (b) => b.candidates[0].pipes.push(b.candidates[0].pipes[0]),
    'duplicate-id',
    'cold',
    'candidates[0].pipes[1].id',
    'an id of its own',
    'cold',
  ],
  [
    'two tank ports of one id',
    (b) => b.candidates[0].tanks.left.ports.push(b.candidates[0].tanks.left.ports[0]),
    'duplicate-id',
    'in',
    'candidates[0].tanks.left.ports[1].id',
    'an id of its own',
    'in',
  ],
  [
    'an id that a mirror image takes',
    (b) => (b.keepOuts[4].id = 'lamp-mirror'),
    'mirror-id-taken',
    'lamp',
    'keepOuts[1].mirror',
    'no other keep-out called lamp-mirror',
    true,
  ],
  [
    'an unknown port',
    (b) => (b.candidates[0].pipes[0].to = 'throtle'),
    'unknown-port',
    'cold',
    'candidates[0].pipes[0].to',
    'a port: turbo, throttle, tank-left:in',
    'throtle',
    'throttle',
  ],
  [
    'an unknown tank port',
    (b) => (b.candidates[0].pipes[0].from = 'tank-right:in'),
    'unknown-port',
    'cold',
    'candidates[0].pipes[0].from',
    'a port',
    'tank-right:in',
    'tank-left:in',
  ],
  [
    'a pipe from a port to itself',
    (b) => (b.candidates[0].pipes[0].to = 'turbo'),
    'same-port',
    'cold',
    'candidates[0].pipes[0].to',
    'another port',
    'turbo',
  ],
  [
    'a port on an unknown keep-out',
    (b) => (b.ports[0].sitsOn = 'raditor'),
    'unknown-keep-out',
    'turbo',
    'ports[0].sitsOn',
    'the id of a keep-out',
    'raditor',
    'radiator',
  ],
  [
    'an unknown bender',
    (b) => (b.candidates[0].pipes[0].bender = 'shed'),
    'unknown-bender',
    'cold',
    'candidates[0].pipes[0].bender',
    'the id of a bender: shop',
    'shed',
  ],
  // Sense
  [
    'a beam that comes off',
    (b) => (b.keepOuts[0].fitting = 'comes-off'),
    'must-stay',
    'beam',
    'keepOuts[0].fitting',
    'role is safety',
    'comes-off',
  ],
  [
    'a lamp that comes off',
    (b) => (b.keepOuts[1].fitting = 'comes-off'),
    'must-stay',
    'lamp',
    'keepOuts[1].fitting',
    'role is lamp',
    'comes-off',
  ],
  [
    'a width whose min is over its max',
    (b) => (b.candidates[0].limits.width.min = 700),
    'min-over-max',
    'wide',
    'candidates[0].limits.width.min',
    'at most max, 640',
    700,
  ],
  [
    'a tilt whose min is over its max',
    (b) => (b.candidates[0].limits.tilt = { min: 5, max: 4 }),
    'min-over-max',
    'wide',
    'candidates[0].limits.tilt.min',
    'at most max, 4',
    5,
  ],
  [
    'a centre region inside out',
    (b) => (b.candidates[0].limits.centre.min[2] = 301),
    'min-over-max',
    'wide',
    'candidates[0].limits.centre.min[2]',
    'at most max, 300',
    301,
  ],
  [
    'a tilt beyond 45 degrees',
    (b) => (b.candidates[0].limits.tilt.max = 46),
    'tilt-too-large',
    'wide',
    'candidates[0].limits.tilt.max',
    'within ±45',
    46,
  ],
  [
    'overhangs that eat the foot in depth',
    (b) => (b.candidates[0].tanks.right.front = -88),
    'foot-not-positive',
    'wide',
    'candidates[0].tanks.right.front',
    'some depth left',
    0,
  ],
  [
    'overhangs that eat the foot in height',
    (b) => (b.candidates[0].tanks.right.below = -300),
    'foot-not-positive',
    'wide',
    'candidates[0].tanks.right.below',
    'some height left',
    -35,
  ],
  [
    'a stub that runs into its tank',
    (b) => (b.candidates[0].tanks.left.ports[0].direction = [0, 1, 0]),
    'points-inward',
    'in',
    'candidates[0].tanks.left.ports[0].direction',
    'leaves the end face',
    [0, 1, 0],
  ],
  [
    'a wall as thick as the pipe',
    (b) => (b.candidates[0].pipes[0].wall = 28.5),
    'wall-too-thick',
    'cold',
    'candidates[0].pipes[0].wall',
    '28.5',
    28.5,
  ],
  ['another format', (b) => (b.format = 'other'), 'not-a-bay', undefined, 'format', '"gapwright-bay"', 'other'],
  [
    'no format',
    (b) => {
      b.formt = b.format
      delete b.format
    },
    'not-a-bay',
    undefined,
    'format',
    '"gapwright-bay"',
    undefined,
    'formt',
  ],
  ['a future version', (b) => (b.version = 2), 'bay-too-new', undefined, 'version', 'version 1', 2],
  ['a version before the first', (b) => (b.version = 0), 'wrong-version', undefined, 'version', 'the number 1', 0],
  ['a version as text', (b) => (b.version = '1'), 'wrong-version', undefined, 'version', 'the number 1', '1'],
  ['no version', (b) => delete b.version, 'wrong-version', undefined, 'version', 'the number 1'],
]

describe('one thing wrong, one fault that names it', () => {
  test.each(rows)('%s', (_, change, code, item, field, expected, got, nearest) => {
    const faults = faultsOf(changed(change))
    expect(faults).toHaveLength(1)
    const [fault] = faults
    expect(fault).toMatchObject({ code, file: 'my.bay.json', field })
    expect(fault.item).toBe(item)
    expect(fault.expected).toContain(expected)
    expect(fault.got).toEqual(got)
    expect(fault.nearest).toBe(nearest)
    expect(fault.line).toBeGreaterThan(0)
    expect(fault.column).toBeGreaterThan(0)
  })
})

/** Each replaces the first keep-out's shape; codes, fields and words are those of the shapes' own files. */
describe('shapes that are no solids', () => {
  const square = [
    [0, 0],
    [10, 0],
    [10, 10],
    [0, 10],
  ]
  const bow = [
    [0, 0],
    [10, 10],
    [10, 0],
    [0, 10],
  ]
  test.each<[what: string, shape: Anything, code: string, field: string]>([
    [
      'a planar hull',
      {
        kind: 'hull',
        points: [
          [0, 0, 0],
          [1, 0, 0],
          [0, 1, 0],
          [1, 1, 0],
          [5, 3, 0],
        ],
      },
      'planar-hull',
      'shape.points',
    ],
    [
      'a hull of one point',
      {
        kind: 'hull',
        points: [
          [1, 1, 1],
          [1, 1, 1],
          [1, 1, 1],
          [1, 1, 1],
        ],
      },
      'planar-hull',
      'shape.points',
    ],
    [
      'a section that crosses itself',
      {
        kind: 'sweep',
        section: bow,
        path: [
          [0, 0, 0],
          [100, 0, 0],
        ],
        up: [0, 0, 1],
      },
      'self-crossing',
      'shape.section',
    ],
    [
      'a section without area',
      {
        kind: 'sweep',
        section: [
          [0, 0],
          [1, 0],
          [2, 0],
        ],
        path: [
          [0, 0, 0],
          [100, 0, 0],
        ],
        up: [0, 0, 1],
      },
      'zero-area',
      'shape.section',
    ],
    [
      'a sweep that turns back',
      {
        kind: 'sweep',
        section: square,
        path: [
          [0, 0, 0],
          [100, 0, 0],
          [50, 0, 0],
        ],
        up: [0, 0, 1],
      },
      'turns-back',
      'shape.path[1]',
    ],
    [
      'a sweep that leaves its plane',
      {
        kind: 'sweep',
        section: square,
        path: [
          [0, 0, 0],
          [100, 0, 0],
          [200, 0, 50],
        ],
        up: [0, 0, 1],
      },
      'path-out-of-plane',
      'shape.path[2]',
    ],
    [
      'a mitre longer than its leg',
      {
        kind: 'sweep',
        section: square.map(([u, v]) => [u + 30, v]),
        path: [
          [0, 0, 0],
          [20, 0, 0],
          [20, 20, 0],
        ],
        up: [0, 0, 1],
      },
      'mitre-overruns',
      'shape.path[1]',
    ],
    [
      'a sweep on the spot',
      {
        kind: 'sweep',
        section: square,
        path: [
          [0, 0, 0],
          [0, 0, 0],
        ],
        up: [0, 0, 1],
      },
      'zero-length',
      'shape.path[1]',
    ],
    [
      'a tube that turns back',
      {
        kind: 'tube',
        path: [
          [0, 0, 0],
          [100, 0, 0],
          [0, 0, 0],
        ],
        radius: 5,
        bendRadius: 20,
      },
      'turns-back',
      'shape.path[1]',
    ],
    [
      'bends that the straights cannot hold',
      {
        kind: 'tube',
        path: [
          [0, 0, 0],
          [10, 0, 0],
          [10, 100, 0],
        ],
        radius: 5,
        bendRadius: 20,
      },
      'straight-too-short',
      'shape.path[1]',
    ],
    [
      'a bend tighter than the tube',
      {
        kind: 'tube',
        path: [
          [0, 0, 0],
          [100, 0, 0],
          [100, 100, 0],
        ],
        radius: 30,
        bendRadius: 20,
      },
      'bend-too-tight',
      'shape.bendRadius',
    ],
    [
      'a tube point given twice',
      {
        kind: 'tube',
        path: [
          [0, 0, 0],
          [0, 0, 0],
          [100, 100, 0],
        ],
        radius: 5,
        bendRadius: 20,
      },
      'repeated-point',
      'shape.path[1]',
    ],
    [
      'a cylinder without length',
      { kind: 'cylinder', from: [1, 2, 3], to: [1, 2, 3], radius: 5 },
      'zero-length',
      'shape.to',
    ],
  ])('%s', (_, shape, code, field) => {
    const text = changed((b) => (b.keepOuts[0].shape = shape))
    const faults = faultsOf(text)
    expect(faults.map((fault) => fault.code)).toEqual([code])
    expect(faults[0]).toMatchObject({ file: 'my.bay.json', item: 'beam', field: `keepOuts[0].${field}` })
    expect(faults[0].expected?.length).toBeGreaterThan(3)
    expect(faults[0].line).toBeGreaterThan(0)
  })

  test('they are told beside faults of other items', () => {
    const faults = faultsOf(
      changed((b) => {
        b.keepOuts[0].role = 'x'
        b.keepOuts[1].shape.points = [
          [0, 0, 0],
          [1, 0, 0],
          [0, 1, 0],
          [1, 1, 0],
        ]
      }),
    )
    expect(faults.map((fault) => fault.code)).toEqual(['wrong-value', 'planar-hull'])
  })
})

describe('mesh files stay in the folder of the bay', () => {
  const withMesh = (file: string) => changed((b) => (b.keepOuts[0].shape = { kind: 'mesh', file, unit: 'mm' }))
  test.each([
    '../bumper.stl',
    'a/../../b.stl',
    '/etc/x.stl',
    'C:/x.stl',
    'c:x.stl',
    'a\\b.stl',
    '\\\\host\\x.stl',
    'https://x.invalid/a.stl',
    'file:///a.stl',
    './a.stl',
    'a//b.stl',
    'a/',
    'a/. ./b.stl',
    '...',
    'nul',
    'a/COM1.stl',
    'a.stl:b',
    'a\u0000.stl',
    `${'x'.repeat(501)}`,
  ])('%j is refused', (file) => {
    const codes = faultsOf(withMesh(file)).map((fault) => fault.code)
    expect(codes).toContain('mesh-outside-folder')
  })
  test.each(['bumper.stl', 'scan/bumper 2.stl', 'Stoßfänger.obj', '.hidden/a.stl', 'a..b.stl'])(
    '%j is taken',
    (file) => {
      expect(faultsOf(withMesh(file))).toEqual([])
    },
  )
})

describe('text that is no bay', () => {
  test.each<[string, string, Record<string, unknown>]>([
    [
      'broken JSON',
      '{"format": "gapwright-bay",\n "version": 1,\n "name" "x"}',
      { code: 'broken-json', line: 3, column: 9, expected: 'a colon after the field name', got: '"x"}' },
    ],
    ['an empty file', '', { code: 'broken-json', line: 1, column: 1, got: 'the end of the file' }],
    ['bytes of something else', 'solid bumper\n', { code: 'broken-json', line: 1, column: 1, expected: 'a value' }],
    ['a list', '[1, 2]', { code: 'not-a-bay', got: [1, 2] }],
    ['a number', '5', { code: 'not-a-bay', got: 5 }],
    ['null', 'null', { code: 'not-a-bay', got: null }],
    ['brackets without end', '['.repeat(1e5), { code: 'nested-too-deep' }],
    ['too much of it', ' '.repeat(20_000_001), { code: 'bay-too-big', got: 20_000_001 }],
  ])('%s', (_, text, fault) => {
    expect(faultsOf(text)).toHaveLength(1)
    expect(faultsOf(text)[0]).toMatchObject({ file: 'my.bay.json', ...fault })
  })

  test('numbers that do not fit a double, and fields given twice', () => {
    const text = changed(() => {})
      .replace('"depth": 90', '"depth": 1e999')
      .replace('"width": 540', '"width": 1e-999')
      .replace('"units": "mm"', '"units": "mm", "units": "inch"')
    expect(faultsOf(text).map(({ code, item, field, got }) => ({ code, item, field, got }))).toEqual([
      { code: 'duplicate-field', item: undefined, field: 'units', got: 'units' },
      { code: 'number-too-large', item: 'wide', field: 'candidates[0].core.depth', got: '1e999' },
      { code: 'number-too-small', item: 'wide', field: 'candidates[0].core.width', got: '1e-999' },
    ])
  })

  test('a field called __proto__ is unknown like any other', () => {
    const text = changed(() => {}).replace('"units": "mm"', '"units": "mm", "__proto__": {"polluted": true}')
    expect(faultsOf(text)).toMatchObject([{ code: 'unknown-field', field: '__proto__' }])
  })
})

test('all faults at once, in the order of the text, each on its own line', () => {
  const text = changed((b) => {
    b.keepOuts[0].clearance = '10'
    b.keepOuts[4].id = 'beam'
    b.ports[0].sitsOn = 'nothing'
    b.candidates[0].limits.tilt = { min: -60, max: 50 }
    b.extra = true
  })
  const lines = text.split('\n')
  const faults = faultsOf(text)
  expect(faults.map((fault) => fault.code)).toEqual([
    'wrong-type',
    'duplicate-id',
    'unknown-keep-out',
    'tilt-too-large',
    'tilt-too-large',
    'unknown-field',
  ])
  expect(faults.map((fault) => lines[(fault.line ?? 0) - 1].trim())).toEqual([
    '"clearance": "10",',
    '"id": "beam",',
    '"sitsOn": "nothing"',
    '"min": -60,',
    '"max": 50',
    '"extra": true',
  ])
})

test('a broken item is no reason to call it unknown', () => {
  const faults = faultsOf(changed((b) => (b.ports[0].outsideDiameter = '57')))
  expect(faults.map((fault) => fault.code)).toEqual(['wrong-type'])
})

test('of very many faults the first hundred are told and the rest counted', () => {
  const faults = faultsOf(
    changed((b) => (b.keepOuts[0].shape = { kind: 'hull', points: Array.from({ length: 300 }, () => ['1', 2, 3]) })),
  )
  expect(faults).toHaveLength(101)
  expect(faults[100]).toMatchObject({ code: 'more-faults', got: 200 })
})
