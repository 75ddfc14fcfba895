import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { cli } from '../../test/kit/cli.ts'
import { boxMesh, stlBinary } from '../../test/kit/meshWriters.ts'
import { roomBay } from '../../test/kit/roomBay.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { cautions } from '../wording/cautions.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'place-'))
})
afterAll(() => rm(folder, { recursive: true }))

const oneLine = (text: string) => text.replace(/\s+/g, ' ')
async function written(bay: Bay, name = 'room.bay.json'): Promise<string> {
  const path = join(folder, name)
  await writeFile(path, JSON.stringify(bay))
  return path
}
const placed = async (bay: Bay, ...more: string[]) => {
  const { status, out, err } = await cli(['place', await written(bay), '--json', ...more])
  expect(err).toBe('')
  return { status, answer: JSON.parse(out) }
}

/* By hand: the room leaves 200 × 500 × 160, each wall asks for 6 + 2, the core is 90 × 400 × 130 with a tolerance of 1.
   Margins in its middle: X 55 − 9, Y 50 − 9, Z 15 − 9 = 6, and Z decides. */
describe('the answer and the exit status', () => {
  test('a place that clears: its margin is what check says there', async () => {
    const { status, answer } = await placed(roomBay({ at: [10, -20, 12] }))
    expect(status).toBe(0)
    expect(Object.keys(answer)).toEqual([
      'command',
      'bay',
      'of',
      'answer',
      'at',
      'turn',
      'margin',
      'stopped',
      'holds',
      'candidate',
      'leftOut',
      'unrouted',
    ])
    expect(answer).toMatchObject({
      command: 'place',
      bay: { name: 'Room', sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
      of: 'wide',
      answer: 'clears',
      turn: [0, 0, 0],
      stopped: 'proved',
      leftOut: [],
      unrouted: [],
    })
    expect(answer.margin.atLeast).toBeLessThanOrEqual(6 + 1e-9)
    expect(answer.margin.atMost).toBeGreaterThanOrEqual(6 - 1e-9)
    expect(answer.margin.atMost - answer.margin.atLeast).toBeLessThanOrEqual(0.1)
    expect(answer.candidate).toMatchObject({ id: 'wide-placed', at: answer.at })
    const moved = await written({ ...roomBay(), candidates: [answer.candidate] }, 'moved.bay.json')
    const checked = JSON.parse((await cli(['check', moved, '--json'])).out)
    expect(checked.pairs[0].margin).toBeCloseTo(answer.margin.atLeast, 9)
  })

  test('none clears: proved, with what conflicts, and status 1', async () => {
    const { status, answer } = await placed(roomBay({ core: { depth: 90, width: 400, height: 150 } }))
    expect(status).toBe(1)
    expect(answer.answer).toBe('none clears')
    expect(answer.stopped).toBe('proved')
    expect(answer.margin.atMost).toBeLessThan(0)
    expect(answer.holds.map(({ keepOut }: { keepOut: string }) => keepOut).sort()).toEqual(['floor', 'roof'])
  })

  test('only what is free moves, and not beyond the reach', async () => {
    const bay = roomBay({ at: [10, -20, 12] })
    expect((await placed(bay, '--free', 'xz')).answer.at[1]).toBe(-20)
    // At a height of 5 the roof is 10 mm away, of which 9 are asked for; at 10 it is 5.
    const { answer } = await placed(bay, '--free', 'z', '--reach', '7')
    expect(answer.at.map((x: number) => Math.round(x * 1e6) / 1e6)).toEqual([10, -20, 5])
    expect(answer.margin.atLeast).toBeCloseTo(1, 6)
    expect((await placed(bay, '--free', 'z', '--reach', '2')).answer.answer).toBe('none clears')
  })

  test('tilt as the limits say, or as asked here', async () => {
    const bay = roomBay({ turn: [0, 4, 0], limits: { tilt: { min: -1, max: 1 } } })
    expect(Math.abs((await placed(bay)).answer.turn[1])).toBeLessThanOrEqual(1)
    const { answer } = await placed(bay, '--tilt', '3..4')
    expect(answer.turn[1]).toBeGreaterThanOrEqual(3)
    // Without limits it stays as it is.
    expect((await placed(roomBay({ turn: [0, 4, 0] }))).answer.turn).toEqual([0, 4, 0])
  })

  test('with something left out for a look nothing is better than unproved', async () => {
    const bay = roomBay()
    bay.keepOuts[0].enabled = false
    const { status, answer } = await placed(bay)
    expect({ status, said: answer.answer, leftOut: answer.leftOut }).toEqual({
      status: 1,
      said: 'unproved',
      leftOut: ['floor'],
    })
    const { out } = await cli(['place', await written(bay)])
    expect(out).toContain('? unproved.')
    expect(out).toContain('Left out for a look, and not held against it: floor.')
  })
})

describe('the answer for people', () => {
  test('where to, what is proved, what holds it, cautions', async () => {
    const { status, out, err } = await cli(['place', await written(roomBay({ at: [10, -20, 12] })), '--free', 'z'])
    expect({ status, err }).toEqual({ status: 0, err: '' })
    expect(out.slice(0, out.indexOf('Gapwright is'))).toMatchInlineSnapshot(`
      "Room · candidate wide (Wide) · mm

      ✓ clears. The best place found for candidate wide.

      move      12.00 mm down
      centre    10.00 mm rearward, 20.00 mm left
      margin    5.99 mm; no place within reach has more than 6.01 mm
      held by   core to floor (Wall floor)
                core to roof (Wall roof)
      searched  along Z, 100.0 mm each way; tilt 0°

      "
    `)
    expect(oneLine(out)).toContain(cautions)
  })

  test('that none clears, with the conflict', async () => {
    const { out } = await cli(['place', await written(roomBay({ core: { depth: 90, width: 400, height: 150 } }))])
    expect(out.slice(0, out.indexOf('Gapwright is'))).toMatchInlineSnapshot(`
      "Room · candidate wide (Wide) · mm

      ✕ none clears. Proved: no place within reach gives candidate wide a margin above −2.99 mm.

      best known  stays where it is
      centre      the origin
      margin      −3.01 mm
      conflict    core to floor (Wall floor)
                  core to roof (Wall roof)
      searched    along X, Y and Z, 100.0 mm each way; tilt 0°

      "
    `)
  })

  test('in inches', async () => {
    const { out } = await cli([
      'place',
      await written(roomBay({ at: [10, -20, 12] })),
      '--free',
      'z',
      '--units',
      'inch',
    ])
    // 6 mm are 15.1 sixty-fourths of an inch; 12 mm down are 30.2.
    expect(out).toMatch(/move +15\/32″ down/)
    expect(oneLine(out)).toMatch(/margin 15\/64″ \(at least 7\/32″ with the move as rounded here\)/)
  })

  test('no line is wider than the terminal', async () => {
    for (const columns of [60, 80]) {
      const { out } = await cli(['place', await written(roomBay())], { columns })
      expect(Math.max(...out.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(columns)
    }
  })
})

describe('adopting the answer', () => {
  test('a copy of the bay with the answer first; check says that it clears', async () => {
    const path = await written(roomBay({ at: [0, 0, 12] }))
    const target = join(folder, 'adopted.bay.json')
    const { status, out } = await cli(['place', path, '--adopt', target])
    expect(status).toBe(0)
    expect(oneLine(out)).toContain('candidate wide-placed stands first in it')
    const bay: Bay = JSON.parse(await readFile(target, 'utf8'))
    expect(bay.candidates.map(({ id }) => id)).toEqual(['wide-placed', 'wide'])
    expect(bay.candidates[1]).toEqual(roomBay({ at: [0, 0, 12] }).candidates[0])
    expect((await cli(['check', target])).status).toBe(0)
    // Once more, from the copy: the id is taken, and so is the name of the file.
    const again = await cli(['place', target, '--candidate', 'wide', '--adopt', target])
    expect(again).toMatchObject({ status: 2, out: '' })
    expect(again.err).toContain('is there already; --force replaces it and keeps the former one as .bak')
    const forced = await cli(['place', target, '--candidate', 'wide', '--adopt', target, '--force', '--json'])
    expect(JSON.parse(forced.out).adopted).toEqual({ file: target, candidate: 'wide-placed-2' })
    expect(JSON.parse(await readFile(`${target}.bak`, 'utf8')).candidates).toHaveLength(2)
  })

  test('nothing is written where nothing clears', async () => {
    const path = await written(roomBay({ core: { depth: 90, width: 400, height: 150 } }))
    const target = join(folder, 'never.bay.json')
    const { status, err } = await cli(['place', path, '--adopt', target])
    expect(status).toBe(1)
    expect(err).toContain('never.bay.json is not written: there is nothing that clears to adopt.')
    await expect(readFile(target)).rejects.toThrow()
  })

  test('not into a folder where the meshes are missing or others, and not under a name that is no bay’s', async () => {
    const bay = roomBay()
    bay.keepOuts.push({
      id: 'scan',
      name: 'Scan',
      role: 'body',
      shape: { kind: 'mesh', file: 'scan.stl', unit: 'mm', at: [500, 0, 0] },
    })
    await writeFile(join(folder, 'scan.stl'), stlBinary(boxMesh([10, 10, 10])))
    const path = await written(bay, 'scanned.bay.json')
    const other = join(folder, 'other')
    await mkdir(other)
    const target = join(other, 'new.bay.json')
    const missing = await cli(['place', path, '--adopt', target])
    expect(missing).toMatchObject({ status: 2, out: '' })
    expect(missing.err).toContain('scan.stl')
    expect(missing.err).toContain('the mesh is not there')
    await writeFile(join(other, 'scan.stl'), stlBinary(boxMesh([10, 10, 11])))
    expect((await cli(['place', path, '--adopt', target])).err).toContain('another mesh of that name lies there')
    await writeFile(join(other, 'scan.stl'), stlBinary(boxMesh([10, 10, 10])))
    expect((await cli(['place', path, '--adopt', target])).status).toBe(0)
    expect((await cli(['check', target])).status).toBe(0)
    expect((await cli(['place', path, '--adopt', join(folder, 'x.json')])).err).toContain(
      'a name that ends in .bay.json',
    )
    expect((await cli(['place', path, '--adopt', join(folder, 'nowhere', 'x')])).err).toContain('cannot be written')
  })
})

describe('what cannot be asked', () => {
  test.each([
    [['--free', 'xw'], /--free <axes>.*letters x, y and z/],
    [['--tilt', '-50..0'], /--tilt <from..to>.*within ±45°/],
    [['--reach', '0'], /--reach <mm>.*above 0/],
    [['--within', '-1'], /--within <mm>.*above 0/],
    [['--seconds', 'x'], /--seconds <n>.*above 0/],
    [['--candidate', 'wid'], /no such candidate.*Did you mean wide\?/],
  ])('%j', async (argv, said) => {
    const { status, out, err } = await cli(['place', await written(roomBay()), ...argv])
    expect({ status, out }).toEqual({ status: 2, out: '' })
    expect(err).toMatch(said)
  })

  test('a bay without keep-outs, and a region for the centre that cannot be reached', async () => {
    const empty = await cli(['place', await written({ ...roomBay(), keepOuts: [] })])
    expect(empty.status).toBe(2)
    expect(empty.err).toMatch(/room\.bay\.json: keepOuts: nothing to keep away from/)
    const far = roomBay({ limits: { centre: { min: [500, 0, 0], max: [600, 0, 0] } } })
    const { status, err } = await cli(['place', await written(far)])
    expect(status).toBe(2)
    expect(err).toMatch(/limits\.centre.*out of reach; expected within 100 mm/)
  })
})
