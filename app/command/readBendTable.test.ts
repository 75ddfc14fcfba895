import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { PipeBends } from '../../core/pipe/answer.ts'
import { bendTable, reversedTable } from '../../core/pipe/bendTable.ts'
import { faultText } from '../wording.ts'
import { bendTableCsv } from './bendTableCsv.ts'
import { readBendTable } from './readBendTable.ts'

const rows = (text: string, pipe = 'hot') => {
  const read = readBendTable(text, 'table.csv', pipe)
  return read.ok ? read.value.rows : read.faults.map(faultText)
}
const plain = [
  { length: 204.75, rotation: 0, angle: 90, radius: 95.25 },
  { length: 109.5, rotation: -90, angle: 45.5, radius: 95.25 },
  { length: 50 },
]

describe('a table as people write it', () => {
  test.each([
    ['commas', 'length,rotation,angle,radius\n204.75,0,90,95.25\n109.5,-90,45.5,95.25\n50\n'],
    [
      'semicolons and decimal commas',
      'Length;Rotation;Angle;Radius\r\n204,75;0;90;95,25\r\n109,5;-90;45,5;95,25\r\n50;;;\r\n',
    ],
    ['tabs and decimal commas', 'length\trotation\tangle\tradius\n204,75\t0\t90\t95,25\n109,5\t-90\t45,5\t95,25\n50'],
    [
      'a byte order mark, blank lines and blanks',
      '\uFEFF\n length , rotation,angle ,radius\n\n204.75, 0,90,95.25\n109.50,−90,45.5,95.25\n 50,,,\n\n',
    ],
    [
      'units and another order',
      'angle °,radius (mm),length [mm],rotation deg\n90,95.25,204.75,0\n45.5,95.25,109.5,-90\n,,50,\n',
    ],
    [
      'inches',
      'length inch,rotation,angle,radius ″\n8.061023622047244,0,90,3.75\n4.311023622047244,-90,45.5,3.75\n1.968503937007874\n',
    ],
    [
      'rotations counted the other way',
      'length,rotation left-hand,angle,radius\n204.75,0,90,95.25\n109.5,90,45.5,95.25\n50\n',
    ],
    ['quotes', '"length","rotation","angle","radius"\n"204.75","0","90","95.25"\n"109.5","-90","45.5","95.25"\n"50"\n'],
    [
      'other pipes and single tubes beside it',
      'pipe,piece,length,rotation,angle,radius\ncold,run,1,0,1,1\nhot,run,204.75,0,90,95.25\nhot,run,109.5,-90,45.5,95.25\nhot,run,50,,,\nhot,1,7,,,\n',
    ],
  ])('%s', (_, text) => {
    const read = rows(text)
    expect(read).toHaveLength(3)
    plain.forEach((row, k) => {
      expect(Object.keys(read[k])).toEqual(Object.keys(row))
      for (const [name, value] of Object.entries(row))
        expect((read[k] as unknown as Record<string, number>)[name], name).toBeCloseTo(value, 9)
    })
  })
})

describe('what is wrong, with line and column', () => {
  test('in the head', () => {
    expect(rows('length,rotaton,angle,radius\n1,0,90,50\n2\n')).toMatchInlineSnapshot(`
      [
        "table.csv, line 1, column 2: no such column; expected length, rotation, angle, radius, pipe, piece, bend, set, elbow; found "rotaton". Did you mean rotation?",
      ]
    `)
    expect(rows('length,angle,radius furlongs,length\n1,0,90,50\n2\n')).toMatchInlineSnapshot(`
      [
        "table.csv, line 1, column 3: no such unit here; expected mm, inch, inches, in, ″, "; found "radius furlongs".",
        "table.csv, line 1, column 4: a column comes twice; expected each column once; found "length".",
        "table.csv, line 1: rotation: a column is missing; expected length, rotation, angle and radius.",
      ]
    `)
    expect(rows('length,rotation,angle,radius\n')).toMatchInlineSnapshot(`
      [
        "table.csv: no table; expected a head and at least one row; found 1.",
      ]
    `)
    expect(rows('')).toMatchInlineSnapshot(`
      [
        "table.csv: no table; expected a head and at least one row; found 0.",
      ]
    `)
  })

  test('in the rows', () => {
    expect(
      rows('length,rotation,angle,radius\n204.75,0,ninety,95.25\n,0,90,95.25\n"50,5",,,\n'),
    ).toMatchInlineSnapshot(`
      [
        "table.csv, line 2, column 3: angle: not a number; expected a number with a decimal point, such as 204.75; found "ninety".",
        "table.csv, line 3, column 1: length: missing; expected a straight in every row.",
        "table.csv, line 4, column 1: length: not a number; expected a number with a decimal point, such as 204.75; found "50,5".",
      ]
    `)
    expect(rows('length;rotation;angle;radius\n1,234,5;0;90;50\n1e3;0;90;50\n5\n')).toMatchInlineSnapshot(`
      [
        "table.csv, line 2, column 1: length: not a number; expected a number such as 204.75 or 204,75; found "1,234,5".",
        "table.csv, line 3, column 1: length: not a number; expected a number such as 204.75 or 204,75; found "1e3".",
      ]
    `)
    expect(rows('length,rotation,angle,radius\n204,75,0,90,95,25\n50\n')).toMatchInlineSnapshot(`
      [
        "table.csv, line 2, column 5: more cells than the head has; expected 4 as in the head; found 6.",
      ]
    `)
    expect(rows('length,rotation,angle,radius\n"204.75,0,90,95.25\n50\n')).toMatchInlineSnapshot(`
      [
        "table.csv, line 2: a quote is missing or stands where none can be; expected quotes in pairs.",
      ]
    `)
    expect(rows('pipe,length,rotation,angle,radius\ncold,204.75,0,90,95.25\ncold,50\n')).toMatchInlineSnapshot(`
      [
        "table.csv: nothing of this pipe in the table; expected rows of pipe hot.",
      ]
    `)
  })

  test('a line break in quotes counts', () => {
    const text = 'pipe,length,rotation,angle,radius\n"co\nld",1,0,90,50\nhot,x,0,90,50\n'
    expect(rows(text)).toMatchInlineSnapshot(`
      [
        "table.csv, line 4, column 2: length: not a number; expected a number with a decimal point, such as 204.75; found "x".",
      ]
    `)
  })
})

describe('what is written is read', () => {
  const run = bendTable(
    [
      [0, 0, 0],
      [250, 0, 0],
      [400, 120, 0],
      [420, 300, 160],
      [420, 300, 400],
    ],
    60,
  )
  if (!run.ok) throw new Error('no table')
  const { table, straights, arcs, developed, corners } = run.value
  const tube = { table, straights, arcs, developed, cut: developed, setAngles: [40, 60, 50] }
  const pipe = {
    id: 'hot',
    table,
    straights,
    arcs,
    developed,
    corners,
    elbows: [],
    tubes: [tube],
  } as unknown as PipeBends

  test.each([
    ['mm', 'right-hand', false],
    ['mm', 'left-hand', false],
    ['inch', 'right-hand', false],
    ['inch', 'left-hand', true],
  ] as const)('in %s, %s, from the end %s', (units, sense, fromEnd) => {
    const text = bendTableCsv([{ pipe, sense }], { units, fromEnd })
    const read = rows(text) as unknown as readonly Record<string, number>[]
    const expected = fromEnd ? reversedTable(table) : table
    expect(read).toHaveLength(expected.length)
    expected.forEach((row, k) => {
      for (const [name, value] of Object.entries(row)) expect(Math.abs(read[k][name] - value)).toBeLessThan(1e-6)
    })
  })

  test('as RFC 4180 wants it', () => {
    const elbows = [{ point: 2, elbow: 'e90, cast', angle: 58, cutDown: true }]
    const parts = [
      {
        ...tube,
        table: [{ length: 200, rotation: 0, angle: 38.66, radius: 60 }, { length: 80 }],
        arcs: [40],
        setAngles: [40],
      },
      {
        ...tube,
        table: [{ length: 70, rotation: 0, angle: 48.54, radius: 60 }, { length: 90 }],
        arcs: [50],
        setAngles: [50],
      },
    ]
    const parted = { ...pipe, elbows, tubes: parts } as unknown as PipeBends
    const text = bendTableCsv([{ pipe: parted, sense: 'right-hand' }], { units: 'mm', fromEnd: false })
    expect(text.split('\r\n')).toMatchInlineSnapshot(`
      [
        "pipe,piece,bend,length mm,rotation right-hand,angle,radius mm,set,elbow",
        "hot,run,1,228.953136,0,38.6598083,60,40,",
        "hot,run,2,137.788647,51.3265506,57.9995225,60,,"e90, cast, cut down"",
        "hot,run,3,181.348883,56.4920663,48.5409408,60,50,",
        "hot,run,end,212.94618,,,,,",
        "hot,1,1,200,0,38.66,60,40,",
        "hot,1,end,80,,,,,",
        "hot,2,1,70,0,48.54,60,50,",
        "hot,2,end,90,,,,,",
        "",
      ]
    `)
    // Tubes are beside the run and not read with it.
    expect(rows(text)).toHaveLength(4)
  })
})

test('no text makes it throw, and what it takes is finite (seed 506)', () => {
  const cell = fc.constantFrom(
    'length',
    'rotation',
    'angle mm',
    'radius',
    '1',
    '-90',
    '0,5',
    '9'.repeat(400),
    '"',
    '\n',
    'é',
  )
  const text = fc.array(fc.tuple(cell, fc.constantFrom(',', ';', '\t', '\n', '\r\n', '"')), { maxLength: 40 })
  const head = fc.constantFrom('', 'length,rotation,angle,radius\n', 'length;rotation;angle;radius\n')
  let taken = 0
  fc.assert(
    fc.property(head, text, (before, cells) => {
      const read = readBendTable(before + cells.flat().join(''), 'x.csv', 'hot')
      if (!read.ok) return
      taken++
      for (const row of read.value.rows)
        for (const value of Object.values(row)) expect(value).toSatisfy(Number.isFinite)
    }),
    { seed: 506, numRuns: 2000 },
  )
  expect(taken).toBeGreaterThan(10)
})
