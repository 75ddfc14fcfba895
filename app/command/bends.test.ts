import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { cli } from '../../test/kit/cli.ts'
import { bareCandidate, tinyBay } from '../../test/kit/tinyBay.ts'
import type { Bay, Pipe } from '../../core/bay/schema.ts'
import { cautions } from '../wording/cautions.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bends-'))
})
afterAll(() => rm(folder, { recursive: true }))

const pipe = (change: Partial<Pipe> = {}): Pipe => ({
  id: 'hot',
  name: 'Hot side',
  from: 'turbo',
  to: 'cooler',
  outsideDiameter: 57,
  wall: 1.5,
  bendRadius: 57,
  path: [
    [500, 0, 0],
    [500, 250, 0],
    [500, 250, 300],
  ],
  tube: 'tube-57',
  joints: { from: { kind: 'weld' }, to: { kind: 'weld' } },
  ...change,
})
const bayWith = (pipes: Pipe[], change: Partial<Bay> = {}): Bay => ({
  ...tinyBay([], bareCandidate({ pipes }), [
    { id: 'turbo', name: 'Turbo', at: [300, 0, 0], direction: [1, 0, 0], outsideDiameter: 57 },
    { id: 'cooler', name: 'Cooler', at: [200, 250, 300], direction: [1, 0, 0], outsideDiameter: 57 },
  ]),
  stock: { tubes: [{ id: 'tube-57', name: 'Tube 57', outsideDiameter: 57, wall: 1.5, material: 'aluminium' }] },
  benders: [
    {
      id: 'shop',
      name: 'Shop bender',
      tools: [
        {
          outsideDiameter: 57,
          radii: [57, 85.5],
          grip: 45,
          leastStraight: 40,
          leastEnd: 35,
          largestAngle: 180,
          springBack: 0.02,
          elongation: 0.03,
        },
      ],
    },
  ],
  ...change,
})
async function written(bay: Bay, name = 'my.bay.json'): Promise<string> {
  const path = join(folder, name)
  await writeFile(path, JSON.stringify(bay))
  return path
}
const bends = async (bay: Bay, ...words: string[]) => cli(['bends', await written(bay), ...words])
const oneLine = (text: string) => text.replace(/\s+/g, ' ')
/** Without what depends on the day's cautions. */
const body = (text: string) => text.replace(/\n\nGapwright is a drawing aid[\s\S]*$/, '')

describe('for people', () => {
  test('a pipe that can be made', async () => {
    const answer = await bends(bayWith([pipe()]))
    expect(answer).toMatchObject({ status: 0, err: '' })
    expect(body(answer.out)).toMatchInlineSnapshot(`
      "Tiny bay · candidate only (Only) · mm

      Pipe hot (Hot side), turbo to cooler: ✓ can be made

      Bend table. Rotation is right-hand about the feed.
      bend  length  rotation   angle  radius     set
      ────  ──────  ────────  ──────  ──────  ──────
         1   143.0            90.00°      57  91.84°
         2   136.0    90.00°  90.00°      57  91.84°
         3   186.0   −90.00°  90.00°      57  91.84°
       end   243.0

      tube          ⌀ 57 mm × 1.5 mm, aluminium
      bend radius   57 mm, 1 D
      bender        Shop bender
      arcs          89.5, 89.5, 89.5
      developed     976.6
      cut           968.5
      at beginning  turbo: welded
      at end        cooler: welded

      To be watched:
        – The outside of its bends stretches by up to 50 %; see that tube and bender take it.
        – The wall of 1.50 mm may thin to as little as 1.00 mm on the outside of its bends; less where the
          tube is pushed along.

      ✓ makeable. 1 pipe: 1 can be made.

      length: straight fed before the bend. rotation: how far the tube is turned since the bend before;
      right-hand about the feed means positive as the fingers of the right hand go with its thumb the way
      the tube is fed, left-hand the other way. angle: turned by the bend. set: what the bender is set to,
      spring-back added. Rounded to 0.1 mm and 0.01°; --json and --csv have more. D of bend is the bend
      radius over the tube’s outside diameter. Pipe fittings go by nominal size instead: the long-radius
      one of nominal 2 1/2 inches is called 1.5 D, and its 95 mm is 1.3 outside diameters of that pipe."
    `)
    expect(oneLine(answer.out)).toContain(cautions)
  })

  test('in inches, on a bender that counts the other way, from the end', async () => {
    const bay = bayWith([pipe()])
    const left = { ...bay, benders: bay.benders?.map((each) => ({ ...each, rotation: 'left-hand' as const })) }
    const answer = await bends(left, '--units', 'inch', '--from-end')
    expect(answer.status).toBe(0)
    expect(body(answer.out).split('\n\n').slice(1, 4).join('\n\n')).toMatchInlineSnapshot(`
      "Pipe hot (Hot side), turbo to cooler: ✓ can be made

      Bend table, from its end. Rotation is left-hand about the feed.
      bend  length  rotation   angle  radius     set
      ────  ──────  ────────  ──────  ──────  ──────
         1   9.567            90.00°   2.244  91.84°
         2   7.323    90.00°  90.00°   2.244  91.84°
         3   5.354   −90.00°  90.00°   2.244  91.84°
       end   5.630

      tube          ⌀ 2.244″ × 0.059″, aluminium
      bend radius   2.244″, 1 D
      bender        Shop bender
      arcs          3.525, 3.525, 3.525
      developed     38.449
      cut           38.132
      at beginning  turbo: welded
      at end        cooler: welded"
    `)
  })

  test('a pipe that cannot be made, and one that is not routed', async () => {
    const short = pipe({
      bendRadius: 60,
      path: [
        [500, 0, 0],
        [500, 160, 0],
        [500, 160, 300],
        [400, 250, 300],
      ],
    })
    const answer = await bends(bayWith([short, pipe({ id: 'cold', name: 'Cold side', path: [] })]))
    expect(answer).toMatchObject({ status: 1, err: '' })
    expect(body(answer.out)).toMatchInlineSnapshot(`
      "Tiny bay · candidate only (Only) · mm

      Pipe hot (Hot side), turbo to cooler: ✕ cannot be made

      Bend table. Rotation is right-hand about the feed.
      bend  length  rotation   angle  radius     set
      ────  ──────  ────────  ──────  ──────  ──────
         1   140.0            90.00°      60  91.84°
         2    40.0    90.00°  90.00°      60  91.84°
         3   180.0  −131.99°  90.00°      60  91.84°
         4    51.5    90.00°  41.99°      60  42.84°
       end   177.0

      tube          ⌀ 57 mm × 1.5 mm, aluminium
      bend radius   60 mm, 1.05 D
      bender        Shop bender
      arcs          94.2, 94.2, 94.2, 44.0
      developed     915.2
      cut           905.4
      at beginning  turbo: welded
      at end        cooler: welded

      Why it cannot be made:
        – Corner 1: Shop bender has no die for a radius of 60.00 mm on this tube, only for 57.00 mm and
          85.50 mm; take one of them.
        – Corner 1: the straight to the next bend is 40.00 mm, and the bender needs 45.00 mm to grip; put
          the corners 5.00 mm further apart.

      To be watched:
        – The outside of its bends stretches by up to 48 %; see that tube and bender take it.
        – The wall of 1.50 mm may thin to as little as 1.01 mm on the outside of its bends; less where the
          tube is pushed along.

      Pipe cold (Cold side), turbo to cooler: not routed. It has no corners, and its ends do not face each
      other in line.

      ✕ not makeable. 2 pipes: 1 cannot and 1 not routed.

      length: straight fed before the bend. rotation: how far the tube is turned since the bend before;
      right-hand about the feed means positive as the fingers of the right hand go with its thumb the way
      the tube is fed, left-hand the other way. angle: turned by the bend. set: what the bender is set to,
      spring-back added. Rounded to 0.1 mm and 0.01°; --json and --csv have more. D of bend is the bend
      radius over the tube’s outside diameter. Pipe fittings go by nominal size instead: the long-radius
      one of nominal 2 1/2 inches is called 1.5 D, and its 95 mm is 1.3 outside diameters of that pipe."
    `)
  })

  test('elbows part the table', async () => {
    const elbows = [{ corner: 1, elbow: 'cast' }]
    const stock: Bay['stock'] = {
      ...bayWith([]).stock,
      elbows: [
        {
          id: 'cast',
          name: 'Cast',
          outsideDiameter: 57,
          wall: 3,
          material: 'aluminium',
          angle: 90,
          radius: 50,
          legs: [10, 12],
        },
      ],
    }
    const answer = await bends(bayWith([pipe({ elbows })], { stock }))
    expect(answer.status).toBe(0)
    expect(body(answer.out).split('\n\n').slice(2, 5).join('\n\n')).toMatchInlineSnapshot(`
      "The whole run, elbows among the bends. Rotation is right-hand about the feed.
      bend  length  rotation   angle  radius     set  elbow
      ────  ──────  ────────  ──────  ──────  ──────  ─────
         1   143.0            90.00°      57  91.84°
         2   143.0    90.00°  90.00°      50          cast
         3   193.0   −90.00°  90.00°      57  91.84°
       end   243.0

      Tube 1 of 2, cut 362.8.
      bend  length  rotation   angle  radius     set
      ────  ──────  ────────  ──────  ──────  ──────
         1   143.0            90.00°      57  91.84°
       end   133.0

      Tube 2 of 2, cut 510.8.
      bend  length  rotation   angle  radius     set
      ────  ──────  ────────  ──────  ──────  ──────
         1   181.0            90.00°      57  91.84°
       end   243.0"
    `)
  })

  test('fits a narrow terminal', async () => {
    const answer = await cli(['bends', await written(bayWith([pipe()]))], { columns: 50 })
    expect(Math.max(...answer.out.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(50)
  })

  test('no pipe at all', async () => {
    const answer = await bends(bayWith([]))
    expect(answer.status).toBe(0)
    expect(answer.out).toContain('No pipe to bend.')
  })
})

describe('as JSON', () => {
  test('the contract', async () => {
    const answer = await bends(bayWith([pipe(), pipe({ id: 'cold', path: [] })]), '--json')
    expect(answer).toMatchObject({ status: 1, err: '' })
    const { pipes, ...rest } = JSON.parse(answer.out)
    expect(rest).toEqual({
      command: 'bends',
      bay: { name: 'Tiny bay', sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
      candidate: 'only',
      answer: 'not makeable',
      rotation: 'right-hand',
      unrouted: ['cold'],
      chainLoss: null,
    })
    expect(Object.keys(pipes[0])).toEqual([
      ...[
        'id',
        'name',
        'outsideDiameter',
        'wall',
        'bendRadius',
        'dOfBend',
        'material',
        'bender',
        'makeable',
        'tubes',
        'elbows',
      ],
      ...['table', 'corners', 'straights', 'arcs', 'developed', 'cut', 'joints', 'reasons', 'notes', 'loss'],
    ])
  })

  test('one pipe alone, in the bender’s sense or not: always right-hand', async () => {
    const bay = bayWith([pipe(), pipe({ id: 'cold', path: [] })])
    const left = { ...bay, benders: bay.benders?.map((each) => ({ ...each, rotation: 'left-hand' as const })) }
    const [one, other] = await Promise.all([
      bends(bay, '--json', '--pipe', 'hot'),
      cli(['bends', await written(left, 'left.bay.json'), '--json', '--pipe', 'hot']),
    ])
    expect(one.status).toBe(0)
    expect(JSON.parse(other.out).pipes).toEqual(JSON.parse(one.out).pipes)
  })
})

describe('a table back to points', () => {
  const there = async (bay: Bay, ...words: string[]) => {
    const table = join(folder, 'table.csv')
    await writeFile(table, (await bends(bay, '--csv', ...words)).out)
    return table
  }

  test.each([
    ['from the beginning', []],
    ['from the end, in inches', ['--from-end', '--units', 'inch']],
  ])('%s', async (_, words) => {
    const bay = bayWith([
      pipe(),
      pipe({
        id: 'cold',
        bendRadius: 85.5,
        path: [
          [600, 0, 0],
          [600, 250, 300],
        ],
      }),
    ])
    const table = await there(bay, ...words)
    const answer = await bends(bay, '--from-table', table, '--pipe', 'hot', '--json', ...words)
    expect(answer).toMatchObject({ status: 0, err: '' })
    const { path, points, ...rest } = JSON.parse(answer.out)
    expect(rest).toMatchObject({ command: 'bends', candidate: 'only', pipe: 'hot', answer: 'reaches', table })
    expect(points).toHaveLength(5)
    pipe().path.forEach((corner, k) => {
      expect(path[k]).toEqual(corner.map((x) => expect.closeTo(x, 4)))
    })
  })

  test('for people, with how far it misses', async () => {
    const table = join(folder, 'shop.csv')
    await writeFile(table, 'length;rotation;angle;radius\n143;0;90;57\n136;90;90;57\n186;90;90;57\n250,5\n')
    const answer = await bends(bayWith([pipe()]), '--from-table', table, '--pipe', 'hot')
    expect(answer).toMatchObject({ status: 1, err: '' })
    // The second paragraph names the table, whose folder is another one each time.
    const [head, , ...rest] = body(answer.out).split('\n\n')
    expect(oneLine(answer.out)).toContain(
      'shop.csv: from turbo, turned about its first straight so that its end comes nearest to cooler.',
    )
    expect([head, ...rest].join('\n\n')).toMatchInlineSnapshot(`
      "Tiny bay · candidate only (Only) · mm

      point           X       Y       Z
      ─────────  ──────  ──────  ──────
      beginning  300.00    0.00    0.00
      corner 1   500.00    0.00    0.00
      corner 2   500.00  250.00    0.00
      corner 3   500.00  250.00  300.00
      end        807.50  250.00  300.00

      ✕ misses cooler. It ends 607.50 mm from where the pipe ends there (607.50 mm rearward), 180° off the
      way that it should arrive."
    `)
  })

  test('adopted, it is the pipe', async () => {
    const bay = bayWith([pipe({ path: [] })])
    const table = await there(bayWith([pipe()]))
    const adopted = join(folder, 'adopted.bay.json')
    const answer = await bends(bay, '--from-table', table, '--pipe', 'hot', '--adopt', adopted)
    expect(answer).toMatchObject({ status: 0, err: '' })
    expect(oneLine(answer.out)).toContain('adopted.bay.json: pipe hot runs by these corners in it.')
    const [hot] = JSON.parse(await readFile(adopted, 'utf8')).candidates[0].pipes
    pipe().path.forEach((corner, k) => {
      expect(hot.path[k]).toEqual(corner.map((x) => expect.closeTo(x, 4)))
    })
    expect((await cli(['bends', adopted])).status).toBe(0)
  })

  test('not adopted where it misses', async () => {
    const table = join(folder, 'short.csv')
    await writeFile(table, 'length,rotation,angle,radius\n143,0,90,57\n50\n')
    const adopted = join(folder, 'never.bay.json')
    const answer = await bends(bayWith([pipe()]), '--from-table', table, '--pipe', 'hot', '--adopt', adopted)
    expect(answer.status).toBe(1)
    expect(answer.err).toContain('is not written: the table does not lead to the pipe’s other end')
    await expect(readFile(adopted)).rejects.toThrow('ENOENT')
  })

  test.each<[string, string, string]>([
    ['a bad cell', 'length,rotation,angle,radius\n1,0,x,57\n2\n', 'line 2, column 3: angle: not a number'],
    [
      'an angle that no bend has',
      'length;rotation;angle;radius\n1;0;180;57\n2\n',
      'line 2, column 3: angle: expected an angle above 0 and below 180°; found 180.',
    ],
    ['a row without its bend', 'length;rotation;angle;radius\n1\n2\n', 'line 2, column 3: angle: missing'],
    [
      'a table that ends in a bend',
      'length;rotation;angle;radius\n1;0;90;57\n',
      'line 2, column 2: rotation: no such field',
    ],
    [
      'nothing left of a leg',
      'length;rotation;angle;radius\n100;0;90;57\n-114;0;90;57\n9\n',
      'line 3, column 1: length: the bends before and after leave nothing of this straight',
    ],
    ['bytes', '\u0000\u0001', 'no table'],
  ])('%s', async (_, text, said) => {
    const table = join(folder, 'bad.csv')
    await writeFile(table, text)
    const answer = await bends(bayWith([pipe()]), '--from-table', table, '--pipe', 'hot')
    expect(answer).toMatchObject({ status: 2, out: '' })
    expect(answer.err).toContain(table)
    expect(answer.err).toContain(said)
  })
})

describe('bad input', () => {
  test.each<[string, string[], string]>([
    [
      'an unknown candidate',
      ['--candidate', 'onyl'],
      'no such candidate; expected one of only; found "onyl". Did you mean only?',
    ],
    ['an unknown pipe', ['--pipe', 'hit'], 'no such pipe; expected one of hot; found "hit". Did you mean hot?'],
    ['a table without a pipe', ['--from-table', 'x.csv'], '--pipe beside it'],
    ['a table that is not there', ['--from-table', 'x.csv', '--pipe', 'hot'], 'x.csv: there is no such file'],
    ['adopting nothing', ['--adopt', 'x.bay.json'], '--from-table beside it'],
    ['two kinds of answer', ['--csv', '--json'], '--csv'],
    ['CSV of a table that is read', ['--from-table', 'x.csv', '--pipe', 'hot', '--csv'], 'no --from-table beside it'],
  ])('%s', async (_, words, said) => {
    const answer = await bends(bayWith([pipe()]), ...words)
    expect(answer).toMatchObject({ status: 2, out: '' })
    expect(answer.err).toContain(said)
  })
})
