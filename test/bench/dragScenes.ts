import { fileURLToPath } from 'node:url'
import { openBay } from '../../app/files/bayFolder.ts'
import { candidateGrips } from '../../core/bay/grips/candidateGrips.ts'
import { shapeGrips } from '../../core/bay/grips/shapeGrips.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { followPorts } from '../../core/pipe/follow.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import { LedgerMemory } from '../../core/verdict/memory.ts'
import { must } from './ledgerScenes.ts'
import type { Aim, Scene } from './scene.ts'

/** A drag's steps: out and back, a millimetre each. */
const outAndBack = Array.from({ length: 32 }, (_, i) => (i < 16 ? i : 32 - i))
/** A frame at 60 a second, ms. */
const frame = 16.7

/**
 * What the worker computes at each step of a drag in the Tarnbeck bay: the whole candidate with its pipes going along, one
 * face of its core, one keep-out; each beside a ledger from nothing, which is what would be computed without a memory.
 * And steps of several kinds taken back.
 */
export async function dragScenes(root: URL): Promise<Scene[]> {
  const path = fileURLToPath(new URL('assets/tarnbeck/tarnbeck.bay.json', root))
  const { bay, meshes } = must(await openBay(path))
  const whole = outAndBack.map((by) => pulled(bay, 'along-x', -by * 0.5))
  const face = outAndBack.map((by) => pulled(bay, 'face-above', by))
  const can = outAndBack.map((by) => pulledKeepOut(bay, 'crash-can', 'along-x', by))
  const least = (of: Bay, memory?: LedgerMemory) => must(ledger(of, undefined, meshes, memory)).pairs[0].margin
  const scene = (
    name: string,
    steps: readonly Bay[],
    shaken: (bay: Bay, by: number) => Bay,
    aims: readonly Aim[],
  ): Scene => {
    const memory = new LedgerMemory()
    const pairs = must(ledger(bay, undefined, meshes)).pairs.length
    // No step is known already from the round before: a nanometre to and fro.
    let tremble = 0
    const trembling = (i: number): Bay => {
      tremble = tremble === 0 ? 1e-9 : 0
      return shaken(steps[i], tremble)
    }
    return {
      name,
      inputs: `${pairs} pairs, steps of up to 1 mm out and back`,
      count: steps.length,
      aims,
      ways: [
        { name: step, run: (i) => least(trembling(i), memory) },
        { name: fromNothing, within: 1e-3, baseline: true, run: (i) => least(steps[i]) },
      ],
    }
  }
  const history = new LedgerMemory()
  const [first, ...others] = bay.candidates
  const steps: Readonly<Record<string, Bay>> = {
    'the candidate moved': whole[5],
    'a face of the core pulled': face[5],
    'a keep-out moved': can[5],
    'a keep-out taken out': { ...bay, keepOuts: bay.keepOuts.slice(1) },
    'every clearance changed': { ...bay, keepOuts: bay.keepOuts.map((item) => ({ ...item, clearance: 7 })) },
    'pipes taken out': { ...bay, candidates: [{ ...first, pipes: [] }, ...others] },
  }
  return [
    scene('drag of the whole candidate on Tarnbeck', whole, shakenCandidate, [
      { way: step, ms: frame },
      { way: step, ms: frame, share: 0.95 },
    ]),
    scene('drag of one face of the core on Tarnbeck', face, shakenCandidate, [{ way: step, ms: frame }]),
    scene('drag of a keep-out on Tarnbeck', can, shakenCan, [{ way: step, ms: frame }]),
    {
      name: 'a step taken back on Tarnbeck',
      inputs: 'to and fro between the bay before and after it, with what the memory keeps of both',
      count: 2,
      aims: Object.keys(steps).map((name) => ({ way: name, ms: 50, share: 0.95 })),
      ways: [
        ...Object.entries(steps).map(([name, after]) => ({
          name,
          run: (i: number) => least(i % 2 ? after : bay, history),
        })),
        { name: fromNothing, baseline: true, run: () => least(bay) },
      ],
    },
    {
      name: 'opening Tarnbeck to its first ledger',
      inputs: 'bay file and meshes read and checked, trees built, all gaps',
      count: 1,
      aims: [{ way: 'read, meshes, ledger', ms: 3000 }],
      ways: [
        {
          name: 'read, meshes, ledger',
          run: async () => {
            const opened = must(await openBay(path))
            return must(ledger(opened.bay, undefined, opened.meshes)).pairs[0].margin
          },
        },
      ],
    },
  ]
}

const step = 'ledger after a step'
const fromNothing = 'ledger from nothing (trees built)'

/** The first candidate with a grip pulled, and its pipes gone along. */
function pulled(bay: Bay, id: string, by: number): Bay {
  const [candidate, ...others] = bay.candidates
  const grip = candidateGrips(candidate).find((one) => one.id === id)
  if (grip?.kind !== 'slide') throw new Error(`no grip ${id}`)
  const moved = { ...bay, candidates: [grip.put(grip.value + by), ...others] }
  return { ...moved, candidates: [followPorts(moved, candidate, moved.candidates[0]), ...others] }
}

function pulledKeepOut(bay: Bay, id: string, grip: string, by: number): Bay {
  const keepOuts = bay.keepOuts.map((keepOut) => {
    if (keepOut.id !== id) return keepOut
    const found = shapeGrips(keepOut.shape).find((one) => one.id === grip)
    if (found?.kind !== 'slide') throw new Error(`no grip ${grip}`)
    return { ...keepOut, shape: found.put(found.value + by) }
  })
  return { ...bay, keepOuts }
}

const shakenCan = (bay: Bay, by: number): Bay => pulledKeepOut(bay, 'crash-can', 'along-x', by)

function shakenCandidate(bay: Bay, by: number): Bay {
  const [{ at, ...candidate }, ...others] = bay.candidates
  return { ...bay, candidates: [{ ...candidate, at: [at[0] + by, at[1], at[2]] }, ...others] }
}
