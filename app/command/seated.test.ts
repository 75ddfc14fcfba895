import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Bay } from '../../core/bay/schema.ts'
import { cli } from '../../test/kit/cli.ts'
import { dropBay, windowBay } from '../../test/kit/seatBays.ts'
import { cautions } from '../wording/cautions.ts'

const corvane = 'assets/corvane/corvane.bay.json'
const oneLine = (text: string) => text.replace(/\s+/g, ' ')

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seated-'))
})
afterAll(() => rm(folder, { recursive: true }))

async function written(value: object, name = 'window.bay.json'): Promise<string> {
  const path = join(folder, name)
  await writeFile(path, JSON.stringify(value))
  return path
}

/* By hand: 2 mm to each side of a window of 300 × 200 leave 296 × 196, and the deepest stock is 80: 4.641 L. The room behind
it takes 80 × 470 × 380, 14.288 L. */
const narrow = () => windowBay(300, 200)

test('what does not come in through the window is no answer; seat, way and what lies between are told apart', async () => {
  const path = await written(narrow())
  const { status, out } = await cli(['largest', path, '--seated', '--need', '5'])
  expect(status).toBe(0)
  const text = oneLine(out)
  expect(text).toContain(
    '✓ clears. The largest core found that can also be offered up. It clears, and its way in is proved; that there is no larger one is not.',
  )
  expect(text).toMatch(/core 80\.00 × 295\.\d\d × 195\.\d\d mm/)
  expect(text).toMatch(/Moves, in the order of offering up: .* 1 back \d+\.0 mm least margin/)
  const bound = /no core that comes in by these same moves has more than (4\.\d+) L/.exec(text)
  expect(Number(bound?.[1])).toBeGreaterThanOrEqual(4.641)
  expect(Number(bound?.[1])).toBeLessThan(4.67)
  expect(text).toMatch(/not proved whether another way lets in more than 4\.63\d? L, up to the 14\.\d+ L of the seat/)
  expect(text).toMatch(/seat alone 80\.00 × 470\.00 × 380\.00 mm, 14\.2\d L, clears, but no way in was found for it/)
  expect(text).toContain(oneLine(cautions))
})

test('the candidate given carries its way: check and seat say the same of it', async () => {
  const path = await written(narrow())
  const { status, out } = await cli(['largest', path, '--seated', '--json'])
  expect(status).toBe(0)
  const answer = JSON.parse(out)
  const { seated, candidate } = answer
  expect(answer).toMatchObject({ command: 'largest', of: 'only', answer: 'found', stopped: 'work', holds: [] })
  expect(candidate.id).toBe('only-largest')
  expect(answer.value).toBeCloseTo(answer.core.depth * answer.core.width * answer.core.height, 3)
  expect(answer.upperBound).toBe(seated.upperBoundSeat)
  expect(seated.upperBoundPath).toBeGreaterThanOrEqual(answer.value)
  expect(seated.upperBoundPath).toBeLessThan(seated.upperBoundSeat)
  expect(seated.seatAlone).toMatchObject({ answer: 'found', core: { depth: 80, width: 470, height: 380 } })
  expect(seated.least.atLeast).toBeGreaterThanOrEqual(0)
  expect(seated.path.moves[0].words).toMatch(/^back \d+\.0 mm$/)
  const moves = await written(seated.path, 'moves.json')
  const own = await written({ ...narrow(), candidates: [candidate] } satisfies Bay, 'own.bay.json')
  expect(JSON.parse((await cli(['check', own, '--json'])).out).verdict).toBe('clears')
  const again = await cli(['seat', own, '--json', '--moves', moves])
  expect(again.status).toBe(0)
  expect(JSON.parse(again.out)).toMatchObject({ answer: 'proved', moves: seated.path.moves })
  expect(candidate.offering.moves).toHaveLength(seated.path.moves.length)
})

test('adopted, it stands first in the bay, with its way in', async () => {
  const copy = join(folder, 'adopted.bay.json')
  const { status } = await cli(['largest', await written(narrow()), '--seated', '--adopt', copy])
  expect(status).toBe(0)
  const [first] = JSON.parse(await readFile(copy, 'utf8')).candidates
  expect(first.id).toBe('only-largest')
  expect(first.offering.moves.length).toBeGreaterThan(0)
  const checked = await cli(['check', copy, '--json'])
  expect(checked.status).toBe(0)
})

test('a sealed room has none that comes in, and that is not told as a proof', async () => {
  const { status, out } = await cli(['largest', await written(windowBay(2, 2)), '--seated'])
  expect(status).toBe(1)
  expect(oneLine(out)).toMatch(/\? none found\. Cores clear at the seat, .* That there is none is not proved\./)
  const told = await cli(['largest', await written(windowBay(2, 2)), '--seated', '--json'])
  expect(told.status).toBe(1)
  expect(JSON.parse(told.out)).toMatchObject({ answer: 'none found', seated: { path: null, upperBoundPath: null } })
  const tight = windowBay(300, 200, { depth: { stock: [300] } })
  const nothing = await cli(['largest', await written(tight), '--seated', '--within-box=-195,-240,-190..-105,240,190'])
  expect(nothing.status).toBe(1)
  expect(oneLine(nothing.out)).toContain('nothing fits. Proved: no core within the limits clears.')
})

test('where the seat’s own largest comes in, that is proved; faces and inches too', async () => {
  const { status, out } = await cli(['largest', corvane, '--seated', '--for', 'face'])
  expect(status).toBe(0)
  const text = oneLine(out)
  expect(text).toMatch(/The largest core, and it can be offered up: proved within 0\.\d+ % of the best possible/)
  expect(text).toMatch(/1 down \d/)
  expect(text).toContain('off for it battery')
  expect(text).not.toContain('not proved whether')
})

test('with something left out for a look nothing is proved of the car', async () => {
  const bay = narrow()
  const keepOuts = bay.keepOuts.map((each) => (each.id === 'above' ? { ...each, enabled: false } : each))
  const { status, out } = await cli(['largest', await written({ ...bay, keepOuts }), '--seated'])
  expect(status).toBe(1)
  expect(oneLine(out)).toContain(
    '? unproved. The largest core found that can also be offered up, but something was left out',
  )
})

test('stopped by the clock it says so, with what it has', async () => {
  const { bay, meshes } = dropBay()
  expect(meshes.size).toBe(1)
  const limits = {
    depth: { stock: [60, 76] },
    width: { min: 300, max: 700 },
    height: { min: 150, max: 400 },
    centre: { min: [-30, -5, -60], max: [20, 5, 60] },
  }
  const plain = bay.keepOuts.filter(({ shape }) => shape.kind !== 'mesh')
  const [own] = bay.candidates
  const path = await written({ ...bay, keepOuts: plain, candidates: [{ ...own, limits }] })
  const { out } = await cli(['largest', path, '--seated', '--json', '--seconds', '0.001'])
  expect(JSON.parse(out).stopped).toBe('time')
})

test('options that make no sense are refused', async () => {
  const path = await written(narrow())
  const both = await cli(['largest', path, '--seated', '--each-depth'])
  expect(both.status).toBe(2)
  expect(both.err).toMatch(/cannot be used with/)
  const need = await cli(['largest', path, '--need', '3'])
  expect(need.status).toBe(2)
  expect(need.err).toMatch(/only with '--seated'/)
  expect((await cli(['largest', path, '--seated', '--need', '-3'])).status).toBe(2)
})
