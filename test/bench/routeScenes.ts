import { fileURLToPath } from 'node:url'
import { openBay } from '../../app/files/bayFolder.ts'
import type { Meshes } from '../../core/bay/part.ts'
import type { Bay, Pipe } from '../../core/bay/schema.ts'
import type { RouteAnswer } from '../../core/pipe/route/answer.ts'
import { route } from '../../core/pipe/route/route.ts'
import { routeProblem } from '../../core/pipe/route/setUp.ts'
import { withRoute } from '../../core/pipe/route/withRoute.ts'
import { type Corridor, cornerCorridor, doubleCorridor, slotCorridor } from '../kit/corridors.ts'
import { type PlainRoute, plainRoute } from '../kit/plainRouter.ts'
import { portPair } from '../kit/portPairs.ts'
import { must } from './ledgerScenes.ts'
import type { Scene, Way } from './scene.ts'

/** A pipe to route, in its bay. */
interface Errand extends Corridor {
  readonly meshes: Meshes
}

/** How the plain router is asked: it is ended by counted samples or, where they are dear, by the clock. */
const plainSeeds = [1, 2, 3, 4, 5]
const plainSamples = 50_000
const plainSeconds = 4
const plainName = `plain router, first route, seed by seed, ${plainSamples} samples or ${plainSeconds} s`
/** What the long run may take, s. */
const longSeconds = 60
const longName = `${longSeconds} s of routes and other starts`

/** Routes in the Tarnbeck bay, through corridors and between random ports, each beside a plain sampling planner. */
export async function routeScenes(root: URL): Promise<Scene[]> {
  const { bay, meshes } = await tarnbeck(root)
  return [
    ...errandsIn(bay, meshes).map(([name, errand]) => tarnbeckScene(name, errand)),
    corridorScene('a corridor with one turn', cornerCorridor),
    corridorScene('a corridor with two turns', doubleCorridor),
    corridorScene('a flat slot', slotCorridor),
    pairsScene(bay, meshes),
  ]
}

/** The Tarnbeck routes against a long run: minutes. */
export async function longRouteScenes(root: URL): Promise<Scene[]> {
  const { bay, meshes } = await tarnbeck(root)
  return errandsIn(bay, meshes).map(
    ([name, errand]): Scene => ({
      name: `${name}, against a long run`,
      inputs: 'thirty routes, then routes begun with those of the plain router, seed by seed',
      count: 1,
      aims: [{ way: 'five routes', like: longName, above: 0.005 }],
      ways: [
        { name: 'five routes', most: 1, run: () => bestCost(answerOf(errand, 5)) },
        { name: longName, once: true, run: () => longRun(errand) },
      ],
    }),
  )
}

const tarnbeck = async (root: URL) =>
  must(await openBay(fileURLToPath(new URL('assets/tarnbeck/tarnbeck.bay.json', root))))

/** The pipes of the chosen candidate, and one that has farther to go. */
function errandsIn(bay: Bay, meshes: Meshes): [name: string, errand: Errand][] {
  const [{ id: candidate, pipes = [] }] = bay.candidates
  const unrouted = ({ id: pipe, bendRadius }: Pipe): Errand => ({
    bay: withRoute(bay, candidate, pipe, { path: [], bendRadius }),
    ...{ candidate, pipe, meshes },
  })
  return [
    ...pipes.map((pipe): [string, Errand] => [`Tarnbeck, pipe ${pipe.id}`, unrouted(pipe)]),
    ['Tarnbeck, a port behind the radiator to the left tank', behindRadiator(unrouted(pipes[0]))],
  ]
}

/** The turbo's port moved to where the pipe has to come round the radiator, and the wider of the bender's radii. */
function behindRadiator({ bay, candidate, pipe, meshes }: Errand): Errand {
  const port = {
    id: 'far',
    name: 'Far port',
    at: [285, -330, 330],
    direction: [0, -1, 0],
    outsideDiameter: 57,
  } as const
  const [first, ...rest] = bay.candidates
  const pipes = first.pipes?.map((one) =>
    one.id === pipe ? { ...one, from: port.id, bendRadius: 85.5, joints: undefined } : one,
  )
  const ports = [...(bay.ports ?? []), { ...port, at: [...port.at], direction: [...port.direction] }] as Bay['ports']
  return { bay: { ...bay, ports, candidates: [{ ...first, pipes }, ...rest] }, candidate, pipe, meshes }
}

const answerOf = ({ bay, candidate, pipe, meshes }: Errand, routes: number, stop?: () => 'cancelled' | null) =>
  must(route(bay, candidate, pipe, meshes, { routes, stop }))

/** Cost of the first valid route, taken as soon as it is there; 0 where none comes. */
function firstCost({ bay, candidate, pipe, meshes }: Errand): number {
  let cost = Infinity
  const found = must(
    route(bay, candidate, pipe, meshes, {
      stop: () => (cost < Infinity ? 'cancelled' : null),
      progress: (inHand) => {
        cost = Math.min(cost, inHand)
      },
    }),
  )
  return found.routes.length > 0 ? cost : 0
}

const bestCost = ({ routes }: RouteAnswer): number => routes[0]?.cost ?? 0

/**
 * The best that a minute and other ways of starting find: thirty routes instead of five, and routes of the plain router as
 * starts. The same family, so it shows that an answer is stable, and not that it is the best there is.
 */
function longRun(errand: Errand): number {
  const { bay, candidate, pipe, meshes } = errand
  const problem = must(routeProblem(bay, candidate, pipe, meshes))
  const begin = performance.now()
  const late = () => performance.now() - begin > 1000 * longSeconds
  const costs = [bestCost(answerOf(errand, 30))]
  for (let seed = 1; !late(); seed++) {
    const start = plainRoute(problem, { seed, samples: plainSamples, first: true, stop: late })
    if (!start) continue
    const begun = withRoute(bay, candidate, pipe, { path: start.corners, bendRadius: problem.bendRadius })
    costs.push(bestCost(answerOf({ ...errand, bay: begun }, 5)))
  }
  return Math.min(...costs.filter((cost) => cost > 0))
}

interface PlainRun {
  readonly found: PlainRoute | null
  readonly milliseconds: number
}

function plainRun({ bay, candidate, pipe, meshes }: Errand, seed: number): PlainRun {
  const problem = must(routeProblem(bay, candidate, pipe, meshes))
  const begin = performance.now()
  const stop = () => performance.now() - begin > 1000 * plainSeconds
  const found = plainRoute(problem, { seed, samples: plainSamples, first: true, stop })
  return { found, milliseconds: performance.now() - begin }
}

const plainRuns = (errand: Errand): PlainRun[] => plainSeeds.map((seed) => plainRun(errand, seed))

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN

/** What the plain router came to: its successes, its time, and what it costs against the best. */
function plainText(runs: readonly PlainRun[], best: number): string {
  const found = runs.flatMap((run) => (run.found ? [run.found] : []))
  const time = `${Math.round(median(runs.map(({ milliseconds }) => milliseconds)))} ms median`
  const cost =
    best > 0 && found.length > 0 ? `, first one ${percentAbove(median(found.map((f) => f.cost)), best)} dearer` : ''
  const bends = found.length > 0 ? `, ${found.map(({ corners }) => corners.length).join(' ')} bends` : ''
  return `plain router ${found.length} of ${runs.length} seeds, ${time}${cost}${bends}`
}

const percentAbove = (cost: number, best: number): string => `${((100 * cost) / best - 100).toFixed(1)} %`

/** One seed after the other, the first route of each; 0 for none. */
const plainWay = (errand: Errand): Way => ({
  name: plainName,
  baseline: true,
  most: plainSeeds.length,
  run: (i) => plainRun(errand, plainSeeds[i]).found?.cost ?? 0,
})

function tarnbeckScene(name: string, errand: Errand): Scene {
  const five = answerOf(errand, 5)
  const words = five.routes.map(({ cost, bends }) => `${Math.round(cost)} (${bends})`).join(', ')
  return {
    name,
    inputs: `costs (bends) ${words || 'none'}; ${five.tried} starts; ${plainText(plainRuns(errand), bestCost(five))}`,
    count: plainSeeds.length,
    aims: [
      { way: 'first valid route', ms: 1500 },
      { way: 'five routes', ms: 5000 },
    ],
    ways: [
      { name: 'five routes', most: 1, run: () => bestCost(answerOf(errand, 5)) },
      { name: 'first valid route', most: 1, run: () => firstCost(errand) },
      plainWay(errand),
    ],
  }
}

function corridorScene(name: string, made: (spare: number) => Corridor): Scene {
  const meshes: Meshes = new Map()
  const [wide, tight] = [made(0.1), made(-0.1)].map((corridor): Errand => ({ ...corridor, meshes }))
  const [found, none] = [answerOf(wide, 5), answerOf(tight, 5)]
  if (none.routes.length > 0) throw new Error(`${name}: a route where there is none`)
  return {
    name: `${name}, 0.1 mm wider or narrower than it has to be`,
    inputs: `wider: ${found.answer}, ${found.routes.length} routes, best ${bestCost(found).toFixed(2)}; narrower: ${none.answer}; ${plainText(plainRuns(wide), bestCost(found))}`,
    count: plainSeeds.length,
    aims: [{ way: 'first valid route, 0.1 mm to spare', ms: 1500 }],
    ways: [
      { name: 'first valid route, 0.1 mm to spare', most: 1, run: () => firstCost(wide) },
      { name: 'five routes, 0.1 mm to spare', most: 1, run: () => bestCost(answerOf(wide, 5)) },
      { name: 'given up or proved closed, 0.1 mm too little', most: 1, run: () => answerOf(tight, 5).routes.length },
      plainWay(wide),
    ],
  }
}

const pairs = 13
const pairBend = 85.5

function pairsScene(bay: Bay, meshes: Meshes): Scene {
  const errands = Array.from(
    { length: pairs },
    (_, seed): Errand => ({ ...portPair(bay, meshes, seed + 1, pairBend), meshes }),
  )
  const costs = errands.map((errand) => bestCost(answerOf(errand, 1)))
  const plain = errands.map((errand) => plainRuns(errand))
  const solved = costs.filter((cost) => cost > 0).length
  const solvedPlain = plain.filter((runs) => runs.some(({ found }) => found)).length
  const dearer = plain.flatMap((runs, i) => {
    const found = runs.flatMap((run) => (run.found ? [run.found.cost] : []))
    return costs[i] > 0 && found.length > 0 ? [(100 * median(found)) / costs[i] - 100] : []
  })
  const lost = plain.filter((runs, i) => costs[i] === 0 && runs.some(({ found }) => found)).length
  const spread =
    dearer.length > 0
      ? `${median(dearer).toFixed(0)} % dearer in the median, ${Math.max(...dearer).toFixed(0)} % at most`
      : ''
  return {
    name: `${pairs} pairs of random ports in the Tarnbeck bay`,
    inputs: `routed ${solved}; plain router, any of ${plainSeeds.length} seeds, ${solvedPlain}, of which ${lost} only by it; ${spread}`,
    count: pairs,
    ways: [
      { name: 'one route', most: pairs, run: (i) => bestCost(answerOf(errands[i], 1)) },
      { name: 'first valid route', most: pairs, run: (i) => firstCost(errands[i]) },
      {
        name: `plain router, first route, one seed, ${plainSamples} samples or ${plainSeconds} s`,
        baseline: true,
        most: pairs,
        run: (i) => plainRun(errands[i], plainSeeds[0]).found?.cost ?? 0,
      },
    ],
  }
}
