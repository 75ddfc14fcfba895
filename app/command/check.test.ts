import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { cli } from '../../test/kit/cli.ts'
import { boxMesh, stlBinary } from '../../test/kit/meshWriters.ts'
import type { Bay, KeepOut } from '../../core/bay/schema.ts'
import { cautions } from '../wording/cautions.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'check-'))
})
afterAll(() => rm(folder, { recursive: true }))

/** A core of 100 × 200 × 100 about the origin: its faces at X ±50, Y ±100, Z ±50. */
const bayWith = (...keepOuts: KeepOut[]): Bay => ({
  format: 'gapwright-bay',
  version: 1,
  name: 'Small bay',
  frame: { origin: 'centre of the core' },
  units: 'mm',
  keepOuts,
  candidates: [
    {
      id: 'first',
      name: 'First',
      at: [0, 0, 0],
      turn: [0, 0, 0],
      core: { depth: 100, width: 200, height: 100, tolerance: 1 },
    },
    { id: 'second', name: 'Second', at: [0, 0, 500], turn: [0, 0, 0], core: { depth: 100, width: 200, height: 100 } },
  ],
})
/** A plate in front of the core whose rear face is at x. */
const plate = (id: string, x: number, more: Partial<KeepOut> = {}): KeepOut => ({
  id,
  name: `Plate ${id}`,
  role: 'safety',
  clearance: 10,
  uncertainty: 2,
  ...more,
  shape: { kind: 'box', at: [x - 5, 0, 0], size: [10, 400, 200] },
})
/** Without line breaks, which depend on the width. */
const oneLine = (text: string) => text.replace(/\s+/g, ' ')

async function written(bay: Bay, name = 'my.bay.json'): Promise<string> {
  const path = join(folder, name)
  await writeFile(path, JSON.stringify(bay))
  return path
}

describe('the answer and the exit status', () => {
  // By hand: gap = −50 − x; margin = gap − 1 (tolerance) − 2 (uncertainty) − 10 (required).
  test.each([
    ['clears', -63.5, 0],
    ['unproved', -62, 1],
    ['short', -56, 1],
    ['fouls', -40, 1],
  ])('%s with the plate at X %d gives %d', async (verdict, x, status) => {
    const answer = await cli(['check', await written(bayWith(plate('front', x))), '--json'])
    expect(answer).toMatchObject({ status, err: '' })
    const { pairs, ...rest } = JSON.parse(answer.out)
    expect(rest).toEqual({
      command: 'check',
      bay: { name: 'Small bay', sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
      candidate: 'first',
      verdict,
      leftOut: [],
      unrouted: [],
      exempt: [],
    })
    const gap = Math.max(0, -50 - x)
    expect(pairs).toHaveLength(1)
    expect(pairs[0]).toMatchObject({
      part: 'core',
      keepOut: 'front',
      role: 'safety',
      tolerance: 1,
      uncertainty: 2,
      required: 10,
      verdict,
    })
    expect(pairs[0].gap).toBeCloseTo(gap, 9)
    expect(pairs[0].margin).toBeCloseTo(gap - 13, 9)
    if (verdict === 'fouls') expect(pairs[0].overlap).toMatchObject({ kind: 'exact', depth: expect.closeTo(10, 6) })
    else expect(pairs[0].onPart[0] - pairs[0].onKeepOut[0]).toBeCloseTo(gap, 9)
  })

  test('another candidate, and one that there is not', async () => {
    const path = await written(bayWith(plate('front', -56)))
    expect(JSON.parse((await cli(['check', path, '--candidate', 'second', '--json'])).out).candidate).toBe('second')
    const { status, out, err } = await cli(['check', path, '--candidate', 'secund'])
    expect({ status, out }).toEqual({ status: 2, out: '' })
    expect(err).toBe(
      `${path}: candidates: no such candidate; expected one of first, second; found "secund". Did you mean second?\n`,
    )
  })

  test('a keep-out that is left out is named, and nothing is better than unproved', async () => {
    const { status, out } = await cli([
      'check',
      await written(bayWith(plate('front', -70), plate('near', -55, { enabled: false }))),
    ])
    expect(status).toBe(1)
    expect(out).toContain('? unproved (something was left out, so nothing better can be said)')
    expect(out).toContain('Left out for a look, and not checked: near.')
  })
})

describe('the answer for people', () => {
  const mixed = bayWith(plate('clear', -70), plate('thin', -62), plate('short', -56), plate('foul', -40))

  test('table, summary, where it is wanting, cautions', async () => {
    const { out } = await cli(['check', await written(mixed)])
    expect(out.slice(0, out.indexOf('Gapwright is'))).toMatchInlineSnapshot(`
      "Small bay · candidate first (First) · mm

      part  keep-out     gap   error  allowances  required  margin  verdict
      ────  ────────  ──────  ──────  ──────────  ────────  ──────  ──────────
      core  foul      −10.00  ≤0.001        3.00     10.00  −13.00  ✕ fouls
      core  short       6.00  ≤0.001        3.00     10.00   −7.00  ◖ short
      core  thin       12.00  ≤0.001        3.00     10.00   −1.00  ? unproved
      core  clear      20.00  ≤0.001        3.00     10.00    7.00  ✓ clears

      ✕ fouls. 4 pairs: 1 foul, 1 short, 1 unproved and 1 clear. Least margin −13.00 mm: core to foul.

      Where, and what is wanting (places as seen from the origin):
      ✕ fouls  core to foul
          At 50.0 mm forward (Plate foul): overlaps by 10.00 mm. Moving the candidate 23.1 mm rearward is
          proved to clear this, and all other pairs with it.
      ◖ short  core to short
          At 50.0 mm forward (Plate short): wants 7.01 mm more room. Moving the candidate 7.1 mm rearward
          is proved to clear this, but then core to foul is short.
      ? unproved  core to thin
          At 50.0 mm forward (Plate thin): wants 1.01 mm more room, or a measurement to within ±0.99 mm.
          Moving the candidate 1.1 mm rearward is proved to clear this, but then core to foul fouls.

      "
    `)
    expect(out.replaceAll('\n', ' ')).toContain(cautions)
  })

  test('in inches, rounded to the safe side', async () => {
    const { out } = await cli(['check', await written(mixed), '--units', 'inch'])
    // 12 mm are 0.4724 in: 30/64 is 0.4688, 31/64 would be more than there is.
    expect(out).toMatch(/core +thin +15\/32 /)
    // 10 mm are 0.3937 in: 13/32 asks for no less.
    expect(out).toMatch(/13\/32 +−/)
    expect(out).toMatch(/Least margin −33\/64″/)
  })

  test('a movement is named only where it is proved to clear', async () => {
    const { out } = await cli(['check', await written(bayWith(plate('front', -56)))])
    expect(oneLine(out)).toContain(
      'wants 7.01 mm more room. Moving the candidate 7.1 mm rearward is proved to clear this, and all other pairs with it.',
    )
    const moved = bayWith(plate('front', -56))
    moved.candidates[0].at = [7.1, 0, 0]
    expect((await cli(['check', await written(moved)])).status).toBe(0)
    const held = await cli(['check', await written(bayWith(plate('front', -56), plate('rear', 70)))])
    expect(oneLine(held.out)).toContain('is proved to clear this, but then core to rear is short')
  })

  test('out of a mesh, whose depth has no direction, the shortest move along one axis is named', async () => {
    await writeFile(join(folder, 'block.stl'), stlBinary(boxMesh([10, 400, 200])))
    const block: KeepOut = {
      id: 'block',
      name: 'Block',
      role: 'body',
      clearance: 6,
      uncertainty: 1,
      shape: { kind: 'mesh', file: 'block.stl', unit: 'mm', at: [-45, -200, -100] },
    }
    const path = await written(bayWith(block))
    expect(JSON.parse((await cli(['check', path, '--json'])).out).pairs[0].overlap).not.toHaveProperty('direction')
    // Block X −45…−35: its rear face is 15 mm inside the core, and 1 + 1 + 6 are wanted.
    expect(oneLine((await cli(['check', path])).out)).toContain(
      'Moving the candidate 23.1 mm rearward is proved to clear this, and all other pairs with it.',
    )
  })

  test('better measuring is named only where it would do', async () => {
    const thin = await cli(['check', await written(bayWith(plate('front', -62)))])
    // Margin −1 with an uncertainty of 2: measured to 0.99 it clears.
    expect(oneLine(thin.out)).toContain('or a measurement to within ±0.99 mm')
    expect((await cli(['check', await written(bayWith(plate('front', -62, { uncertainty: 0.99 })))])).status).toBe(0)
    const short = await cli(['check', await written(bayWith(plate('front', -56)))])
    expect(short.out).not.toContain('measurement')
  })

  test('defaults are marked, open meshes are named', async () => {
    const { positions, triangles } = boxMesh([10, 400, 200])
    await writeFile(join(folder, 'shell.stl'), stlBinary({ positions, triangles: Array.from(triangles).slice(0, 30) }))
    const shell: KeepOut = {
      id: 'shell',
      name: 'Shell',
      role: 'body',
      shape: { kind: 'mesh', file: 'shell.stl', unit: 'mm', at: [-200, -200, -100] },
    }
    const { out } = await cli(['check', await written(bayWith(shell))])
    expect(out).toMatch(/shell \(open\)/)
    expect(out).toMatch(/4\.00\* +6\.00\* +/)
    expect(out).toContain('common practice, no source')
    expect(out).toContain('(open): a surface without an inside.')
  })

  test('what was put right in a mesh is said: the ledger leans on it', async () => {
    const { positions, triangles } = boxMesh([10, 400, 200])
    const inward = Array.from(triangles).reverse()
    await writeFile(join(folder, 'inward.stl'), stlBinary({ positions, triangles: [...inward, 0, 0, 1] }))
    await writeFile(join(folder, 'plain.stl'), stlBinary({ positions, triangles }))
    const wall = (id: string, x: number): KeepOut => ({
      id,
      name: id,
      role: 'body',
      shape: { kind: 'mesh', file: `${id}.stl`, unit: 'mm', at: [x, -200, -100] },
    })
    const { out } = await cli(['check', await written(bayWith(wall('inward', -200), wall('plain', 200)))])
    expect(oneLine(out)).toContain(
      'inward.stl: 1 component faced inward and is turned back, so that the solid is inside. ' +
        'inward.stl: triangles left out: 1 with a corner twice.',
    )
    expect(out).not.toMatch(/plain\.stl:/)
  })

  test('without a pair there is no table', async () => {
    const { status, out } = await cli(['check', await written(bayWith())])
    expect({ status, rest: out.slice(0, out.indexOf('Gapwright is')) }).toEqual({
      status: 1,
      rest: 'Small bay · candidate first (First) · mm\n\n? unproved. No pair to check.\n\n',
    })
  })

  test('of hundreds of rows the far ones are told in a line, unless all are asked for', async () => {
    const far = Array.from({ length: 90 }, (_, i) => plate(`far-${i}`, -100 - i))
    const path = await written(bayWith(plate('near', -55), ...far))
    const rowsIn = (text: string) => text.split('\n').filter((line) => line.startsWith('core ')).length
    const near = await cli(['check', path])
    expect(rowsIn(near.out)).toBe(60)
    expect(near.out).toMatch(/31 more pairs clear, with 96\.00 mm or more to spare; --all lists them\./)
    const all = await cli(['check', path, '--all'])
    expect(rowsIn(all.out)).toBe(91)
    expect(all.out).not.toContain('--all')
  })

  test('no line is wider than the terminal, down to 60 characters', async () => {
    for (const columns of [60, 72, 80, 120]) {
      const { out } = await cli(['check', await written(mixed)], { columns })
      expect(Math.max(...out.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(columns)
    }
  })

  test('colours only where asked for, and never without mark and word', async () => {
    const path = await written(mixed)
    const plain = await cli(['check', path])
    const coloured = await cli(['check', path], { colour: true })
    expect(plain.out).not.toContain('\u001b')
    expect(coloured.out).toContain('\u001b[35m✕ fouls')
    // biome-ignore lint/suspicious/noControlCharactersInRegex: the colours are what is taken away
    expect(coloured.out.replace(/\u001b\[\d+m/g, '')).toBe(plain.out)
  })
})
