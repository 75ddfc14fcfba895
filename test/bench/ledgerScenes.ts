import { fileURLToPath } from 'node:url'
import { openBay } from '../../app/files/bayFolder.ts'
import { keepOutSolids } from '../../core/bay/keepOuts.ts'
import { candidateParts } from '../../core/bay/parts.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { Workshop } from '../../core/bay/workshop.ts'
import type { Outcome } from '../../core/fault.ts'
import { displayOf } from '../../core/shape/display.ts'
import type { Solid } from '../../core/shape/form.ts'
import { identity } from '../../core/shape/vec.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import { LedgerMemory } from '../../core/verdict/memory.ts'
import { libraryGeometry, matrixOf } from './libraries.ts'
import type { Scene } from './scene.ts'

export function must<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults))
  return outcome.value
}

const moved = (bay: Bay, by: number): Bay => ({
  ...bay,
  candidates: bay.candidates.map((candidate, k) =>
    k === 0
      ? { ...candidate, at: [candidate.at[0] - by * 0.6, candidate.at[1], candidate.at[2] + by * 0.8] }
      : candidate,
  ),
})

/** The whole gap ledger of the Tarnbeck example: from cold with trees built, and after a move of 1 mm as in a drag. */
export async function ledgerScene(root: URL): Promise<Scene> {
  const { bay, meshes } = must(await openBay(fileURLToPath(new URL('assets/tarnbeck/tarnbeck.bay.json', root))))
  const memory = new LedgerMemory()
  const first = must(ledger(bay, undefined, meshes, memory))
  // Out and back, a millimetre a step, as a hand drags.
  const steps = Array.from({ length: 16 }, (_, i) => moved(bay, i < 8 ? i : 16 - i))
  const least = (bayNow: Bay, kept?: LedgerMemory) => must(ledger(bayNow, undefined, meshes, kept)).pairs[0].margin
  const library = libraryPairs(bay, meshes)
  return {
    name: `Tarnbeck ledger, ${first.pairs.length} pairs`,
    inputs: `${new Set(first.pairs.map((p) => p.part)).size} parts, ${new Set(first.pairs.map((p) => p.keepOut)).size} keep-outs and parts, steps of 1 mm`,
    count: steps.length,
    aims: [
      { way: 'ledger, cold (trees built)', ms: 20 },
      { way: 'ledger, after a 1 mm move', ms: 16 },
      { way: 'ledger, after a 1 mm move', ms: 9 },
    ],
    ways: [
      { name: 'ledger, cold (trees built)', run: (i) => least(steps[i]) },
      { name: 'ledger, after a 1 mm move', within: 1e-6, run: (i) => least(steps[i], memory) },
      {
        name: 'three-mesh-bvh closestPointToGeometry, parts tessellated',
        baseline: true,
        most: 1,
        run: () => library.reduce((sum, pair) => sum + pair(), 0),
      },
    ],
  }
}

/** What a general-purpose mesh library would do: every part and keep-out as triangles, every pair asked. */
function libraryPairs(bay: Bay, meshes: Parameters<typeof ledger>[2]): (() => number)[] {
  const workshop = new Workshop()
  const keepOuts = must(keepOutSolids(bay, meshes, workshop))
  const { parts } = must(candidateParts(bay, bay.candidates[0], workshop))
  const outs = keepOuts.map(({ solid }) => geometryOf(solid))
  const still = matrixOf({ turn: identity, at: [0, 0, 0] })
  return parts.flatMap((part) => {
    const small = geometryOf(part.solid)
    return outs.map(
      (large) => () => (large.tree.closestPointToGeometry(small.geometry, still) as { distance: number }).distance,
    )
  })
}

/** A solid of the Tarnbeck bay as triangles; what has no end is cut off outside of everything. */
export function geometryOf(solid: Solid): ReturnType<typeof libraryGeometry> {
  const { positions, triangles } = displayOf(solid, { within: { min: [-600, -800, -200], max: [400, 800, 700] } })
  return libraryGeometry({ positions: Float64Array.from(positions), triangles: triangles.slice(), closed: true })
}
