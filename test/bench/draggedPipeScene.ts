import { fileURLToPath } from 'node:url'
import { openBay } from '../../app/files/bayFolder.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { certify } from '../../core/pipe/route/certify.ts'
import type { Corners, RouteProblem } from '../../core/pipe/route/problem.ts'
import { routeProblem } from '../../core/pipe/route/setUp.ts'
import { withRoute } from '../../core/pipe/route/withRoute.ts'
import { identity, type Vec3 } from '../../core/shape/vec.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import { LedgerMemory } from '../../core/verdict/memory.ts'
import { tessellated } from '../kit/tubePaths.ts'
import { geometryOf, must } from './ledgerScenes.ts'
import { libraryGeometry, matrixOf } from './libraries.ts'
import type { Scene } from './scene.ts'

/** Six bends from the turbo round the left crash can and behind the radiator to the throttle; 20 mm from the can. */
const corners: Corners = [
  [29.6, -500, 60],
  [38, -630.8, 169.9],
  [121.6, -557.2, 299.6],
  [220.6, -417.7, 301.1],
  [260, 100, 380],
  [130, 500, 208.4],
]
/** Which corner a hand drags: the one beside the crash can. */
const dragged = 2

/** A pipe of six bends in the whole Tarnbeck bay, with one corner dragged by a millimetre a step, out and back. */
export async function draggedPipeScene(root: URL): Promise<Scene> {
  const { bay: example, meshes } = must(
    await openBay(fileURLToPath(new URL('assets/tarnbeck/tarnbeck.bay.json', root))),
  )
  const bay = withOnePipe(example)
  const [{ id }] = bay.candidates
  const problem = must(routeProblem(bay, id, 'cross', meshes))
  const steps = Array.from({ length: 16 }, (_, i) => draggedBy(i < 8 ? i : 16 - i))
  const least = (path: Corners, memory?: LedgerMemory) => {
    const routed = withRoute(bay, id, 'cross', { path, bendRadius: problem.bendRadius })
    return must(ledger(routed, id, meshes, memory)).pairs.filter(({ part }) => part === 'pipe-cross')[0].margin
  }
  const memory = new LedgerMemory()
  // A quick step is measured several times over: a nanometre to and fro keeps it from being known already.
  let tremble = 0
  const trembling = (i: number): Corners => {
    tremble = 1e-9 - tremble
    return draggedBy((i < 8 ? i : 16 - i) + tremble)
  }
  const { bends, length } = certify(problem, corners)
  if (bends !== 6) throw new Error(`the pipe has ${bends} bends`)
  const library = libraryCheck(problem)
  const margins = steps.map((path) => least(path).toFixed(1))
  return {
    name: `pipe of six bends dragged in the Tarnbeck bay, ${problem.obstacles.length} things in its way`,
    inputs: `${Math.round(length)} mm of ⌀ ${2 * problem.radius}, steps of 1 mm, least margin ${margins[0]} to ${margins[8]} mm`,
    count: steps.length,
    aims: [
      { way: 'ledger of bay and candidate, after a step', ms: 8 },
      { way: 'certified check of the pipe alone', ms: 3 },
      { way: 'ledger of bay and candidate, after a step', than: 'three-mesh-bvh', times: 100 },
    ],
    ways: [
      { name: 'ledger of bay and candidate, after a step', run: (i) => least(trembling(i), memory) },
      // It follows no margin beyond the least, and that one as the ledger does.
      { name: 'certified check of the pipe alone', within: 1e-3, run: (i) => certify(problem, steps[i]).leastMargin },
      {
        // 28.5 mm · (1 − cos 5.6°) = 0.14 mm of each side's facets are missing, and something of every ring.
        name: 'three-mesh-bvh closestPointToGeometry, pipe with 32 sides',
        within: 0.25,
        baseline: true,
        most: 2,
        run: (i) => library(steps[i]),
      },
    ],
  }
}

/** The pipes of the candidate make room for one that goes right through the bay. */
function withOnePipe(bay: Bay): Bay {
  const [candidate] = bay.candidates
  const [{ outsideDiameter, wall, bendRadius, tolerance }] = candidate.pipes ?? []
  const size = { outsideDiameter, wall, bendRadius, tolerance }
  const pipe = { id: 'cross', name: 'Cross', from: 'turbo', to: 'throttle', path: [], ...size }
  return { ...bay, candidates: [{ ...candidate, pipes: [pipe] }] }
}

const draggedBy = (by: number): Corners =>
  corners.map((corner, k): Vec3 => (k === dragged ? [corner[0] + by * 0.6, corner[1], corner[2] + by * 0.8] : corner))

/** What a general-purpose mesh library would do at each step: the pipe tessellated anew, and every obstacle asked. */
function libraryCheck(problem: RouteProblem): (corners: Corners) => number {
  const still = matrixOf({ turn: identity, at: [0, 0, 0] })
  const obstacles = problem.obstacles.map(({ solid, need }) => ({ tree: geometryOf(solid).tree, need }))
  return (path) => {
    const { centreline } = certify(problem, path)
    const pipe = libraryGeometry(
      tessellated({ form: 'round', centreline, radius: problem.radius }, 32, Math.PI / 90, 7.5),
    )
    const margins = obstacles.map(
      ({ tree, need }) => (tree.closestPointToGeometry(pipe.geometry, still) as { distance: number }).distance - need,
    )
    return Math.min(...margins)
  }
}
