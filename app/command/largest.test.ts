import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { cli } from '../../test/kit/cli.ts'
import { roomBay } from '../../test/kit/roomBay.ts'
import type { Bay, Candidate } from '../../core/bay/schema.ts'
import { cautions } from '../wording/cautions.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'largest-'))
})
afterAll(() => rm(folder, { recursive: true }))

const oneLine = (text: string) => text.replace(/\s+/g, ' ')
async function written(bay: Bay, name = 'room.bay.json'): Promise<string> {
  const path = join(folder, name)
  await writeFile(path, JSON.stringify(bay))
  return path
}
const asked = async (bay: Bay, ...more: string[]) => {
  const { status, out, err } = await cli(['largest', await written(bay), '--json', ...more])
  expect(err).toBe('')
  return { status, answer: JSON.parse(out) }
}
const untanked = (bay: Bay, change: Partial<Candidate> = {}): Bay => ({
  ...bay,
  candidates: [{ ...bay.candidates[0], ...change }],
})

const limits: Candidate['limits'] = {
  depth: { stock: [65, 90, 102] },
  width: { min: 100, max: 450 },
  height: { min: 50, max: 200, pitch: 10.5, offset: 8 },
  centre: { min: [-50, -50, -50], max: [50, 50, 50] },
}
const limited = (change: Partial<Candidate> = {}) => roomBay({ limits, ...change })

/* By hand: the room leaves 200 × 500 × 160; with 6 + 2 + 1 to each wall 182 × 482 × 142 are left. Depth: 102 of the
   stock; width: 450 of the limits; height: 12 rows of 10.5 and 8 make 134. */
const volume = 102 * 450 * 134

describe('the answer and the exit status', () => {
  test('the largest core within stock, rows and limits, ready for check', async () => {
    const { status, answer } = await asked(limited())
    expect(status).toBe(0)
    expect(Object.keys(answer)).toEqual([
      'command',
      'bay',
      'of',
      'for',
      'answer',
      'core',
      'at',
      'turn',
      'value',
      'upperBound',
      'within',
      'stopped',
      'holds',
      'candidate',
      'leftOut',
      'unrouted',
    ])
    expect(answer).toMatchObject({
      command: 'largest',
      bay: { name: 'Room', sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
      of: 'wide',
      for: 'volume',
      answer: 'found',
      turn: [0, 0, 0],
      within: 0.005,
      stopped: 'proved',
      leftOut: [],
      unrouted: [],
    })
    expect(answer.core.depth).toBe(102)
    expect(answer.core.width).toBeCloseTo(450, 5)
    expect(answer.core.height).toBeCloseTo(134, 9)
    expect(answer.value).toBeGreaterThan(volume * 0.995)
    expect(answer.value).toBeLessThanOrEqual(volume)
    expect(answer.upperBound).toBeGreaterThanOrEqual(volume)
    expect(answer.upperBound).toBeLessThanOrEqual(answer.value * 1.005)
    expect(answer.candidate).toMatchObject({ id: 'wide-largest', at: answer.at, turn: answer.turn })
    const sized = await written({ ...roomBay(), candidates: [answer.candidate] }, 'sized.bay.json')
    expect((await cli(['check', sized])).status).toBe(0)
  })

  test('what holds it, and what a millimetre would buy', async () => {
    const { answer } = await asked(limited())
    // A millimetre of width more is 102 × 134 mm³; stock and rows take no single millimetre.
    const [first, ...others] = answer.holds
    expect(first).toEqual({ limit: 'width.max', gainPerMm: expect.closeTo(102 * 134, -2) })
    for (const { gainPerMm } of others) expect(gainPerMm).toBeLessThan(1)
    const wide = await asked(roomBay({ limits: { ...limits, width: { max: 600 } } }))
    const walls = wide.answer.holds.filter((hold: { keepOut?: string }) => hold.keepOut)
    expect(walls).toEqual(
      expect.arrayContaining([
        { keepOut: 'left', part: 'core', side: 'left', gainPerMm: expect.closeTo(102 * 134, -2) },
        { keepOut: 'right', part: 'core', side: 'right', gainPerMm: expect.closeTo(102 * 134, -2) },
      ]),
    )
  })

  test('the largest face, and nearer to the best', async () => {
    const { answer } = await asked(limited(), '--for', 'face', '--within', '0.01%')
    expect(answer).toMatchObject({ for: 'face', within: 0.0001 })
    expect(answer.value).toBeLessThanOrEqual(450 * 134)
    expect(answer.value).toBeGreaterThan(450 * 134 * 0.9998)
  })

  test('nothing fits: status 1, with what leaves no room', async () => {
    const { status, answer } = await asked(roomBay({ limits: { ...limits, height: { min: 150, max: 400 } } }))
    expect(status).toBe(1)
    expect(answer).toMatchObject({ answer: 'nothing fits', stopped: 'proved' })
    expect(answer.conflict).toEqual(expect.arrayContaining(['floor', 'roof', 'height.min']))
    expect(answer).not.toHaveProperty('candidate')
  })

  test('a box to stay within stands in for limits', async () => {
    const bay = untanked(roomBay(), { limits: undefined })
    const { answer } = await asked(bay, '--within-box', '-50,-100,-30..50,100,30')
    expect(answer.value).toBeLessThanOrEqual(100 * 200 * 60 + 1e-6)
    expect(answer.value).toBeGreaterThan(100 * 200 * 60 * 0.995)
  })

  test('a table over the depths of the stock', async () => {
    const { status, answer } = await asked(limited(), '--each-depth')
    expect(status).toBe(0)
    expect(answer).toMatchObject({ command: 'largest', of: 'wide', for: 'face', leftOut: [] })
    expect(answer.depths.map(({ depth }: { depth: number }) => depth)).toEqual([65, 90, 102])
    for (const row of answer.depths) {
      expect(row.face).toBeGreaterThan(450 * 134 * 0.995)
      expect(row.volume).toBeCloseTo(row.face * row.depth, 3)
      expect(row.core.depth).toBe(row.depth)
      expect(row.upperBound).toBeGreaterThanOrEqual(450 * 134)
    }
    const partly = await asked(roomBay({ limits: { ...limits, depth: { stock: [90, 300] } } }), '--each-depth')
    expect(partly.status).toBe(0)
    expect(partly.answer.depths.map((row: { answer: string }) => row.answer)).toEqual(['found', 'nothing fits'])
  })

  test('with something left out for a look nothing is better than unproved', async () => {
    const bay = limited()
    bay.keepOuts[3].enabled = false
    const { status, answer } = await asked(bay)
    expect({ status, leftOut: answer.leftOut }).toEqual({ status: 1, leftOut: ['rear'] })
    const { out } = await cli(['largest', await written(bay)])
    expect(out).toContain('? unproved.')
    expect(out).toContain('Left out for a look, and not held against it: rear.')
  })
})

describe('the answer for people', () => {
  const wide = () => roomBay({ limits: { ...limits, width: { max: 600 } } })

  test('size, stock, rows, proof, what holds it, cautions', async () => {
    const { status, out, err } = await cli(['largest', await written(wide())])
    expect({ status, err }).toEqual({ status: 0, err: '' })
    expect(out).toMatch(
      /^Room · candidate wide \(Wide\) · mm\n\n✓ clears\. The largest core, proved within 0\.\d+ % of/,
    )
    expect(out).toMatch(/\ncore +102\.00 × 48[12]\.\d\d × 134\.00 mm \(depth × width × height\)\n/)
    expect(out).toMatch(/\nrows +12 of 10\.50 mm, and 8\.00 mm beside them\n/)
    expect(out).toMatch(/\nleft \(Wall left\) +core, left +\+1 mm here buys 0\.013 L\n/)
    expect(oneLine(out)).toContain(cautions)
  })

  test('room at a safety structure or a lamp is only ever better measuring', async () => {
    for (const role of ['safety', 'lamp'] as const)
      for (const [uncertainty, said] of [
        [2, /measured 1 mm surer, it buys 0\.01\d L/],
        [0.5, /measured surer \(±0\.50 mm now\), it buys 0\.01\d L for each 1 mm/],
        [0, /nothing: it is measured as surely as can be/],
      ] as const) {
        const bay = wide()
        for (const keepOut of bay.keepOuts) Object.assign(keepOut, { role, uncertainty })
        const { out } = await cli(['largest', await written(bay)])
        expect(oneLine(out)).toMatch(said)
        expect(out).not.toMatch(/\+1 mm here/)
      }
  })

  test('in inches', async () => {
    const { out } = await cli(['largest', await written(wide()), '--units', 'inch'])
    // 102 mm are 4 1/64 in (4.0157), rounded down; 134 mm are 5.2755 in, 5 17/64 rounded down.
    expect(out).toMatch(/core +4 1\/64″ × 18 \d+\/\d+″ × 5 17\/64″ \(depth × width × height\)/)
    // 102 × 482 × 134 mm³ are 402.0 in³.
    expect(out).toMatch(/volume +40[12]\.\d in³; no core within the limits has more than 40[123]\.\d in³/)
    expect(out).toMatch(/\+1\/32″ here buys 0\.6\d in³/)
  })

  test('that nothing fits', async () => {
    const { out } = await cli([
      'largest',
      await written(roomBay({ limits: { ...limits, height: { min: 150, max: 400 } } })),
    ])
    expect(oneLine(out)).toMatch(/✕ nothing fits\. Proved: no core within the limits clears\. What leaves no room/)
    expect(oneLine(out)).toContain('floor (Wall floor), roof (Wall roof) and least height.')
  })

  test('the table over depths', async () => {
    const { out } = await cli(['largest', await written(limited()), '--each-depth'])
    expect(out).toMatch(/depth +width +height +face +at most +volume +held by/)
    expect(out).toMatch(/ 65\.0 +(449\.9|450\.0) +134\.0 +60[23]\.\d cm² +60\d\.\d cm² +3\.9\d+ L +greatest width/)
  })

  test('no line is wider than the terminal', async () => {
    for (const argv of [[], ['--each-depth']])
      for (const columns of [60, 80]) {
        const { out } = await cli(['largest', await written(wide()), ...argv], { columns })
        expect(Math.max(...out.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(columns)
      }
  })
})

describe('adopting the answer', () => {
  test('check of the copy says that core, tanks and stubs clear, and that the pipe has no path', async () => {
    const tank = { length: 20, front: 0, rear: 0, below: 0, above: 0, taper: { depth: 0.8, height: 0.7 } }
    const port = { id: 'in', face: 'rear', u: 0, v: 0, outsideDiameter: 30, length: 10 } as const
    const bay = limited({
      core: { depth: 65, width: 150, height: 71 },
      tanks: { left: { ...tank, ports: [port] }, right: tank },
      pipes: [
        {
          id: 'hot',
          name: 'Hot',
          from: 'turbo',
          to: 'tank-left:in',
          outsideDiameter: 30,
          wall: 1.5,
          bendRadius: 40,
          path: [],
        },
      ],
    })
    bay.ports = [{ id: 'turbo', name: 'Turbo', at: [85, 200, 60], direction: [0, -1, 0], outsideDiameter: 30 }]
    const target = join(folder, 'adopted.bay.json')
    const { status, out } = await cli(['largest', await written(bay), '--adopt', target])
    expect(status).toBe(0)
    expect(oneLine(out)).toContain(
      'candidate wide-largest stands first in it, so it is the one that is meant where none is named. There pipe hot has ' +
        'no path yet: check finds that core, tanks and stubs clear, and calls the whole unproved until it is routed.',
    )
    const copy: Bay = JSON.parse(await readFile(target, 'utf8'))
    expect(copy.candidates.map(({ id }) => id)).toEqual(['wide-largest', 'wide'])
    const checked = await cli(['check', target, '--json'])
    const { pairs, verdict, unrouted, candidate } = JSON.parse(checked.out)
    expect({ status: checked.status, verdict, unrouted, candidate }).toEqual({
      status: 1,
      verdict: 'unproved',
      unrouted: ['hot'],
      candidate: 'wide-largest',
    })
    expect(new Set(pairs.map((pair: { part: string }) => pair.part))).toEqual(
      new Set(['core', 'tank-left', 'tank-right', 'stub-left-in']),
    )
    expect(new Set(pairs.map((pair: { verdict: string }) => pair.verdict))).toEqual(new Set(['clears']))
  })

  test('nothing is written where nothing fits', async () => {
    const path = await written(roomBay({ limits: { ...limits, height: { min: 150, max: 400 } } }))
    const target = join(folder, 'never.bay.json')
    const { status, err } = await cli(['largest', path, '--adopt', target])
    expect(status).toBe(1)
    expect(err).toContain('is not written')
    await expect(readFile(target)).rejects.toThrow()
  })
})

describe('what cannot be asked', () => {
  test('a direction without an end names the limit that is missing', async () => {
    const bay = roomBay({ limits: { ...limits, depth: undefined, centre: undefined } })
    bay.keepOuts = bay.keepOuts.filter(({ id }) => id !== 'rear')
    const { status, out, err } = await cli(['largest', await written(bay)])
    expect({ status, out }).toEqual({ status: 2, out: '' })
    expect(oneLine(err)).toMatch(/wide, limits\.depth\.max: no end in this direction; expected an end to the rear/)
    expect(err).toContain('--within-box')
  })

  test.each([
    [['--for', 'weight'], /Allowed choices are volume, face/],
    [['--within', '2'], /--within <share>.*at most 1/],
    [['--within-box', '1,2'], /two corners/],
    [['--tilt', '0..46'], /within ±45°/],
    [['--seconds', '0'], /above 0/],
    [['--each-depth', '--adopt', 'x'], /cannot be used with option '--adopt/],
    [['--candidate', 'nobody'], /no such candidate/],
  ])('%j', async (argv, said) => {
    const { status, out, err } = await cli(['largest', await written(limited()), ...argv])
    expect({ status, out }).toEqual({ status: 2, out: '' })
    expect(err).toMatch(said)
  })

  // biome-ignore lint/suspicious/noExplicitAny: a bay that is wrong has no type
  test.each<[what: string, change: (bay: any) => void, said: RegExp]>([
    [
      'least over greatest',
      (b) => (b.candidates[0].limits.width = { min: 500, max: 400 }),
      /limits\.width\.min: the least is above the most; expected at most max, 400; found 500/,
    ],
    [
      'a pitch of 0',
      (b) => (b.candidates[0].limits.height.pitch = 0),
      /limits\.height\.pitch: expected more than 0; found 0/,
    ],
    ['an empty stock', (b) => (b.candidates[0].limits.depth.stock = []), /limits\.depth\.stock: expected at least 1/],
    [
      'no row between least and greatest',
      (b) => (b.candidates[0].limits.height = { min: 20, max: 25, pitch: 10, offset: 8 }),
      /limits\.height.*no size/,
    ],
    [
      'stock beyond the greatest',
      (b) => (b.candidates[0].limits.depth = { stock: [65], max: 60 }),
      /limits\.depth.*no size/,
    ],
    [
      'a region turned inside out',
      (b) => (b.candidates[0].limits.centre.min[0] = 60),
      /limits\.centre\.min\[0\]: the least is above the most/,
    ],
    [
      'a tank without a length',
      (b) => (b.candidates[0].tanks = { left: { length: 0, front: 0, rear: 0, below: 0, above: 0 } }),
      /tanks\.left\.length: expected more than 0; found 0/,
    ],
    [
      'a negative clearance',
      (b) => (b.keepOuts[1].clearance = -1),
      /keepOuts\[1\] \(roof\), clearance: expected at least 0; found -1/,
    ],
    [
      'a negative uncertainty',
      (b) => (b.keepOuts[1].uncertainty = -1),
      /keepOuts\[1\] \(roof\), uncertainty: expected at least 0; found -1/,
    ],
    [
      'a tilt beyond 45°',
      (b) => (b.candidates[0].limits.tilt = { min: -46, max: 0 }),
      /limits\.tilt\.min: expected within ±45 degrees; found -46/,
    ],
  ])('%s: named, status 2, nothing run', async (_, change, said) => {
    const bay = structuredClone(limited())
    change(bay)
    const path = await written(bay, 'bad.bay.json')
    for (const command of ['largest', 'place']) {
      const { status, out, err } = await cli([command, path])
      // What only the largest core asks of limits is no concern of a core whose size is given.
      if (command === 'place' && /no size/.test(said.source)) continue
      expect({ status, out }).toEqual({ status: 2, out: '' })
      expect(err).toMatch(said)
      expect(err).toContain('bad.bay.json')
    }
  })
})
