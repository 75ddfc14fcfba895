import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { cli } from '../../test/kit/cli.ts'
import { cautions } from '../wording/cautions.ts'

const corvane = 'assets/corvane/corvane.bay.json'
const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'
const oneLine = (text: string) => text.replace(/\s+/g, ' ')

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seat-'))
})
afterAll(() => rm(folder, { recursive: true }))

async function movesFile(value: unknown): Promise<string> {
  const path = join(folder, 'moves.json')
  await writeFile(path, typeof value === 'string' ? value : JSON.stringify(value))
  return path
}

test('both examples are offered up: moves in words, what is off, what stays, mounts, cautions', async () => {
  const lower = await cli(['seat', corvane])
  expect(lower.status).toBe(0)
  expect(oneLine(lower.out)).toMatch(
    /✓ proved\. It can be offered up in 1 move, .* 1 down 13″ least margin 0\.71\d\d″ to/,
  )
  expect(oneLine(lower.out)).toContain('mount ear Upper ear: goes on. At ')
  const { status, out } = await cli(['seat', tarnbeck])
  expect(status).toBe(0)
  expect(oneLine(out)).toMatch(/1 up [\d.]+ mm 2 back [\d.]+ mm 3 up [\d.]+ mm least margin/)
  expect(oneLine(out)).toContain('off for it bumper and under-tray stay beam, crash-can, lamp and tow-eye')
  expect(oneLine(out)).toContain('put on after pipe-hot and pipe-cold')
  expect(oneLine(out)).toContain(oneLine(cautions))
})

test('the path found is proved again from a file, and a step beside it is refused by how much', async () => {
  const { status, out } = await cli(['seat', corvane, '--json'])
  expect(status).toBe(0)
  const { command, answer, start, moves, least, mounts } = JSON.parse(out)
  expect({ command, answer }).toEqual({ command: 'seat', answer: 'proved' })
  expect(moves[0].words).toMatch(/^down 330\.\d mm$/)
  expect(least.atMost - least.atLeast).toBeLessThanOrEqual(0.05)
  expect(mounts).toHaveLength(3)
  const again = await cli(['seat', corvane, '--json', '--moves', await movesFile({ start, moves })])
  expect(again.status).toBe(0)
  expect(JSON.parse(again.out)).toMatchObject({ answer: 'proved', moves })
  const short = [{ ...moves[0], shift: [0, 0, moves[0].shift[2] + 1] }]
  const beside = await cli(['seat', corvane, '--moves', await movesFile({ start, moves: short })])
  expect(beside.status).toBe(2)
  expect(beside.err).toMatch(/moves\.json/)
})

test('a way through something is refuted, with the place; what wants more than there is too', async () => {
  const start = { at: [152.4, 190.5, 134.9375 - 600], turn: [0, 0, 0] }
  const moves = [{ shift: [0, 0, 600], pivot: [0, 0, 0], axis: [0, 0, 1], angle: 0 }]
  const up = await cli(['seat', corvane, '--moves', await movesFile({ start, moves })])
  // Up through the floor.
  expect(up.status).toBe(1)
  expect(oneLine(up.out)).toMatch(/✕ refuted\. .* to floor, at /)
  const behind = { at: [152.4 + 1500, 190.5, 134.9375], turn: [0, 0, 0] }
  const forward = [{ ...moves[0], shift: [-1500, 0, 0] }]
  const through = await cli(['seat', corvane, '--moves', await movesFile({ start: behind, moves: forward })])
  expect(through.status).toBe(1)
  expect(oneLine(through.out)).toMatch(/✕ refuted\. These moves fall short on the way\./)
  const found = JSON.parse((await cli(['seat', corvane, '--json'])).out)
  const wide = await cli([
    'seat',
    corvane,
    '--need',
    '100',
    '--json',
    '--moves',
    await movesFile({ start: found.start, moves: found.moves }),
  ])
  // No more is wanted than each keep-out's own clearance.
  expect(JSON.parse(wide.out).answer).toBe('proved')
})

test('a candidate that does not clear at its seat is refuted first, with the pair', async () => {
  const { status, out } = await cli(['seat', tarnbeck, '--candidate', 'deep'])
  expect(status).toBe(1)
  expect(oneLine(out)).toMatch(/✕ refuted\. It does not clear at its seat: tank-left to beam, margin −7\.\d\d mm\./)
})

test('a mount that does not go on is no good end, and says what to better and what hole or slot would do', async () => {
  const bay = JSON.parse(await readFile(corvane, 'utf8'))
  bay.fixings[0].uncertainty = 6
  const path = join(folder, 'loose.bay.json')
  await writeFile(path, JSON.stringify(bay))
  const { status, out } = await cli(['seat', path])
  expect(status).toBe(1)
  expect(oneLine(out)).toMatch(/✓ proved\. It can be offered up in 1 move/)
  expect(oneLine(out)).toMatch(
    /: does not go on\. At .* −[\d.]+″ to spare at the worst, .* To better first: where .* is measured to be, from ±[\d.]+″ to ±[\d.]+″\. A hole of [\d.]+″ would do/,
  )
})

test('bad input is named', async () => {
  expect((await cli(['seat', corvane, '--moves', join(folder, 'none.json')])).status).toBe(2)
  expect((await cli(['seat', corvane, '--moves', await movesFile('{')])).err).toMatch(/moves\.json.*not JSON/)
  expect((await cli(['seat', corvane, '--candidate', 'narow'])).err).toMatch(/Did you mean narrow/)
})

test('no line is wider than the terminal', async () => {
  const { out } = await cli(['seat', corvane], { columns: 72 })
  expect(Math.max(...out.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(72)
})
