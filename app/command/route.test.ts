import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Bay } from '../../core/bay/schema.ts'
import { cli } from '../../test/kit/cli.ts'
import { cornerCorridor, freeRun, shortestRun, slotCorridor } from '../../test/kit/corridors.ts'
import { cautions } from '../wording/cautions.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'route-'))
})
afterAll(() => rm(folder, { recursive: true }))

const oneLine = (text: string) => text.replace(/\s+/g, ' ')
async function written(bay: Bay, name = 'run.bay.json'): Promise<string> {
  const path = join(folder, name)
  await writeFile(path, JSON.stringify(bay))
  return path
}
const free = freeRun(600, 150).bay
/** Two pipes side by side, of which the one has to make room for the other. */
function twoPipes(): Bay {
  const [candidate] = free.candidates
  const [pipe] = candidate.pipes ?? []
  const [start, end] = free.ports ?? []
  const ports = [
    { ...start, id: 'start-2', at: [0, 0, 300] as [number, number, number] },
    { ...end, id: 'end-2', at: [600, 150, 300] as [number, number, number] },
  ]
  const second = { ...pipe, id: 'second', name: 'Second', from: 'start-2', to: 'end-2' }
  return { ...free, ports: [start, end, ...ports], candidates: [{ ...candidate, pipes: [pipe, second] }] }
}

describe('the answer and the exit status', () => {
  test('found: the path put into the pipe clears by check, and can be bent by bends', async () => {
    const target = join(folder, 'routed.bay.json')
    const asked = ['--pipe', 'run', '--routes', '1', '--json', '--adopt', target]
    const { status, out } = await cli(['route', await written(cornerCorridor(0.1).bay), ...asked])
    expect(status).toBe(0)
    const answer = JSON.parse(out)
    expect(Object.keys(answer)).toEqual([
      ...[
        'command',
        'bay',
        'candidate',
        'pipe',
        'answer',
        'routes',
        'proved',
        'weights',
        'tried',
        'stopped',
        'leftOut',
      ],
      'adopted',
    ])
    expect(answer).toMatchObject({
      command: 'route',
      bay: { name: 'Tiny bay', sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
      candidate: 'only',
      pipe: 'run',
      answer: 'found',
      weights: { bend: 100, loss: 0 },
      stopped: 'done',
      leftOut: [],
      adopted: { file: target, pipes: [{ pipe: 'run', route: 1 }] },
    })
    const [route] = answer.routes
    expect(Object.keys(route)).toEqual([
      ...['path', 'bendRadius', 'length', 'bends', 'cost', 'least', 'words', 'passes'],
    ])
    expect(route).toMatchObject({ bendRadius: 60, bends: 3, least: { keepOut: expect.any(String) } })
    expect(route.cost).toBeCloseTo(route.length + 300, 9)
    expect(route.least.margin).toBeGreaterThanOrEqual(0)
    const bay: Bay = JSON.parse(await readFile(target, 'utf8'))
    expect(bay.candidates[0].pipes?.[0].path).toEqual(route.path)
    const checked = await cli(['check', target, '--json'])
    expect(checked.status).toBe(0)
    const { pairs } = JSON.parse(checked.out)
    const row = pairs.find(({ keepOut }: { keepOut: string }) => keepOut === route.least.keepOut)
    expect(row.margin).toBeCloseTo(route.least.margin, 9)
    expect(row.margin).toBe(Math.min(...pairs.map(({ margin }: { margin: number }) => margin)))
    const bends = await cli(['bends', target, '--json'])
    expect(JSON.parse(bends.out).pipes[0]).toMatchObject({ makeable: true })
  })

  test('what is proved holds for every route, and the shortest is known where nothing is in the way', async () => {
    const { out } = await cli(['route', await written(free), '--pipe', 'run', '--routes', '3', '--json'])
    const { routes, proved } = JSON.parse(out)
    expect(routes[0].length).toBeCloseTo(shortestRun(600, 150), 5)
    expect(routes.map(({ cost }: { cost: number }) => cost)).toEqual(
      routes.map(({ cost }: { cost: number }) => cost).sort((a: number, b: number) => a - b),
    )
    for (const { bends, length } of routes) {
      expect(bends).toBeGreaterThanOrEqual(proved.fewestBends)
      expect(length).toBeGreaterThanOrEqual(proved.lengthAtLeast)
    }
    // Parallel ports that are not in line take two bends.
    expect(proved.fewestBends).toBe(2)
    expect(proved.lengthAtLeast).toBeGreaterThan(600)
  })

  test('closed: by which two, and by how much; nothing is written', async () => {
    const target = join(folder, 'never.bay.json')
    const path = await written(slotCorridor(-0.1).bay)
    const { status, out, err } = await cli(['route', path, '--pipe', 'run', '--json', '--adopt', target])
    expect(status).toBe(1)
    const answer = JSON.parse(out)
    expect(answer).toMatchObject({ answer: 'closed', routes: [], stopped: 'done' })
    expect([...answer.closedBy.between].sort()).toEqual(['lower', 'upper'])
    // By hand: a tenth of a millimetre too narrow, half of it on each side.
    expect(answer.closedBy.shortBy).toBeGreaterThan(0.04)
    expect(answer.closedBy.shortBy).toBeLessThanOrEqual(0.05 + 1e-9)
    expect(err).toContain('never.bay.json is not written: there is no route to adopt.')
    await expect(readFile(target)).rejects.toThrow()
    const told = await cli(['route', path, '--pipe', 'run'])
    expect(told.status).toBe(1)
    expect(oneLine(told.out)).toMatch(
      /✕ closed\. No tube of this diameter .*closed by (lower and upper|upper and lower), at least 0\.0[45] mm short/,
    )
  })

  test('none found where a passage is open never says that there is none', async () => {
    const path = await written(cornerCorridor(-0.1).bay)
    const { status, out } = await cli(['route', path, '--pipe', 'run'])
    expect(status).toBe(1)
    expect(oneLine(out)).toMatch(
      /\? none found\. A passage is open \(0\.\d+ mm to spare on each side\), but no sequence of bends was found in \d+ starts\. That there is none is not proved\./,
    )
    expect(oneLine(out)).toContain('fewer than 3 bends of this radius is impossible inside the search box')
  })

  test('several pipes, each clear of the others; the order is told', async () => {
    const target = join(folder, 'both.bay.json')
    const { status, out } = await cli([
      'route',
      await written(twoPipes()),
      '--routes',
      '1',
      '--json',
      '--adopt',
      target,
    ])
    expect(status).toBe(0)
    const answer = JSON.parse(out)
    expect(answer.answer).toBe('found')
    expect(answer.pipes.map(({ pipe }: { pipe: string }) => pipe)).toEqual(['run', 'second'])
    expect(answer.tried.map(({ order }: { order: string[] }) => order)).toEqual([
      ['run', 'second'],
      ['second', 'run'],
    ])
    expect(answer.adopted.pipes).toHaveLength(2)
    const checked = await cli(['check', target, '--json'])
    expect(JSON.parse(checked.out)).toMatchObject({ verdict: 'clears', unrouted: [] })
    const one = await cli(['route', await written(twoPipes()), '--pipe', 'second,second', '--routes', '1', '--json'])
    expect(JSON.parse(one.out).pipes.map(({ pipe }: { pipe: string }) => pipe)).toEqual(['second'])
  })

  test('weights count: bends that are dear are fewer, losses add to the cost', async () => {
    const path = await written(free)
    const asked = ['--pipe', 'run', '--routes', '1', '--json']
    const { out } = await cli(['route', path, ...asked, '--bend-weight', '0', '--loss-weight', '100'])
    const { routes, weights } = JSON.parse(out)
    expect(weights).toEqual({ bend: 0, loss: 100 })
    expect(routes[0].cost).toBeGreaterThan(routes[0].length)
  })

  test('other radii of the bender, where they are asked for; the route names its own', async () => {
    const target = join(folder, 'tighter.bay.json')
    const benders = free.benders?.map((one) => ({ ...one, tools: one.tools.map((t) => ({ ...t, radii: [90, 60] })) }))
    const path = await written({ ...free, benders })
    const asked = ['--pipe', 'run', '--routes', '1', '--any-radius', '--adopt', target]
    const { out } = await cli(['route', path, ...asked, '--json'])
    const [route] = JSON.parse(out).routes
    expect(route.bendRadius).toBe(60)
    expect(route.length).toBeCloseTo(shortestRun(600, 150, 60), 5)
    const bay: Bay = JSON.parse(await readFile(target, 'utf8'))
    expect(bay.candidates[0].pipes?.[0]).toMatchObject({ bendRadius: 60, path: route.path })
    expect((await cli(['check', target])).status).toBe(0)
    const told = await cli(['route', path, '--pipe', 'run', '--routes', '1', '--any-radius'])
    expect(oneLine(told.out)).toContain('bends 2 bends of radius 60.0 mm')
  })

  test('where the bender has no die for the pipe, that is said and nothing bent is looked for', async () => {
    const benders = free.benders?.map((one) => ({ ...one, tools: one.tools.map((t) => ({ ...t, radii: [61] })) }))
    const path = await written({ ...free, benders })
    const { status, out } = await cli(['route', path, '--pipe', 'run'])
    expect(status).toBe(1)
    expect(oneLine(out)).toMatch(/\? none found\. Not looked for\. .* has no die for a radius of .* only for 61\.00 mm/)
    const { answer, routes, tried, refused } = JSON.parse((await cli(['route', path, '--pipe', 'run', '--json'])).out)
    expect({ answer, routes, tried, code: refused.code }).toEqual({
      answer: 'none found',
      routes: [],
      tried: 0,
      code: 'no-radius',
    })
    // With any radius of the bender there is a way again.
    expect((await cli(['route', path, '--pipe', 'run', '--routes', '1', '--any-radius'])).status).toBe(0)
  })

  test('with something left out for a look it is not good news', async () => {
    const { bay } = cornerCorridor(0.1)
    const keepOuts = bay.keepOuts.map((one) => (one.id === 'corner' ? { ...one, enabled: false } : one))
    const path = await written({ ...bay, keepOuts })
    const { status, out } = await cli(['route', path, '--pipe', 'run', '--routes', '1'])
    expect(status).toBe(1)
    expect(out).toContain('Left out for a look, and not held against any route: corner.')
  })

  test('stopped by the clock before there is anything', async () => {
    const path = await written(cornerCorridor(0.1).bay)
    const { status, out } = await cli(['route', path, '--pipe', 'run', '--json', '--seconds', '0.000001'])
    expect(status).toBe(1)
    expect(JSON.parse(out)).toMatchObject({ answer: 'none found', routes: [], stopped: 'time' })
  })
})

describe('the answer for people', () => {
  test('each route with its corners, what is proved, cautions; no line is wider than the terminal', async () => {
    const path = await written(cornerCorridor(0.1).bay)
    const { out } = await cli(['route', path, '--routes', '1'], { columns: 80 })
    const text = oneLine(out)
    expect(text).toContain('✓ found. 1 route.')
    expect(text).toMatch(/bends 3 bends of radius 60\.0 mm, 1240\.\d mm long, cost 1540\.2 mm/)
    expect(text).toMatch(/margin 0\.00 mm at least, to \w+, at [^.]+/)
    expect(text).toMatch(/passes behind corner \(5\.0 mm\), .*above floor \(5\.\d mm\)/)
    expect(text).toMatch(/corners −140\.00, \d+\.\d\d, −?0\.\d\d 2\d\d\.\d\d/)
    expect(text).toContain(
      'fewer than 3 bends of this radius is impossible inside the search box, as the best route has',
    )
    expect(text).toContain('a cheaper one may exist')
    expect(text).toContain('minimised developed length and 100.0 mm for each bend')
    expect(text).toContain(cautions)
    expect(Math.max(...out.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(80)
  })

  test('in inches', async () => {
    const { out } = await cli(['route', await written(free), '--routes', '1', '--units', 'inch'])
    expect(out).toMatch(/bends {4}2 bends of radius 3 17\/32″/)
  })
})

describe('adopting a route', () => {
  test('another than the best; a file that is there stays unless forced', async () => {
    const path = await written(free)
    const target = join(folder, 'second.bay.json')
    const asked = ['route', path, '--pipe', 'run', '--routes', '2', '--take', '2', '--adopt', target]
    const { out } = await cli([...asked, '--json'])
    const bay: Bay = JSON.parse(await readFile(target, 'utf8'))
    expect(bay.candidates[0].pipes?.[0].path).toEqual(JSON.parse(out).routes[1].path)
    expect(bay.candidates.map(({ id }) => id)).toEqual(['only'])
    const again = await cli(asked)
    expect(again).toMatchObject({ status: 2, out: '' })
    expect(again.err).toContain('is there already; --force replaces it and keeps the former one as .bak')
    const forced = await cli([...asked, '--force'])
    expect(forced.status).toBe(0)
    expect(oneLine(forced.out)).toContain('second.bay.json: in candidate only, pipe run takes route 2.')
  })

  test('a route that was not found is not written, and that is no good news', async () => {
    const target = join(folder, 'fifth.bay.json')
    const path = await written(cornerCorridor(0.1).bay)
    const asked = ['--pipe', 'run', '--routes', '40', '--take', '40', '--adopt', target, '--seconds', '5']
    const { status, err } = await cli(['route', path, ...asked])
    expect(status).toBe(1)
    expect(err).toMatch(/fifth\.bay\.json is not written: there is no route 40, only \d were found\./)
    await expect(readFile(target)).rejects.toThrow()
  })
})

describe('what cannot be asked', () => {
  test.each([
    [['--pipe', 'rum'], /only, pipes: no such pipe; expected one of run; found "rum"\. Did you mean run\?/],
    [['--candidate', 'onle'], /no such candidate.*Did you mean only\?/],
    [['--routes', '0'], /--routes <n>.*whole number from 1 to 50/],
    [['--routes', '2.5'], /--routes <n>.*whole number/],
    [['--bend-weight', '-1'], /--bend-weight <mm>.*above 0/],
    [['--loss-weight', 'x'], /--loss-weight <mm>.*above 0/],
    [['--seconds', '0'], /--seconds <n>.*above 0/],
    [['--take', '6'], /--take: expected at most 5, as many as --routes asks for; found 6/],
    [['--adopt', 'x.json'], /a name that ends in \.bay\.json/],
  ])('%j', async (argv, said) => {
    const { status, out, err } = await cli(['route', await written(free), ...argv])
    expect({ status, out }).toEqual({ status: 2, out: '' })
    expect(err).toMatch(said)
  })

  test('one of the routes of several pipes; a candidate without pipes', async () => {
    const both = await cli(['route', await written(twoPipes()), '--take', '2'])
    expect(both.err).toMatch(/--take: expected one --pipe beside it; found 2 pipes/)
    expect(both.status).toBe(2)
    const bare = { ...free, candidates: free.candidates.map((one) => ({ ...one, pipes: undefined })) }
    const none = await cli(['route', await written(bare)])
    expect(none.status).toBe(2)
    expect(none.err).toMatch(/run\.bay\.json: only, candidates: nothing to route; expected at least one pipe/)
  })
})
