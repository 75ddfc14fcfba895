import { boundsOf, unionBounds } from '../shape/bounds.ts'
import type { Bounds } from '../shape/form.ts'
import type { Vec3 } from '../shape/vec.ts'
import { askedBy } from './defaults.ts'
import { keepOutSolids } from './keepOuts.ts'
import type { Bay, Candidate } from './schema.ts'

/** What a core is begun with where there is room for it, mm: a common depth, wide and flat. Common practice, no source. */
const wanted: Vec3 = [65, 400, 200]
/** No smaller than this share of it, however tight the bay. */
const leastShare = 0.2
/** Places tried along each axis. */
const places = 17
/** Core sizes come out in whole steps of this, mm. */
const step = 5

export type FreshCore = Pick<Candidate, 'at' | 'core'>

/**
 * Where a core may be begun, and how large: in the free space of the bay, as near to its middle as the wanted size allows.
 * A place to begin at, not an answer: keep-outs count as the boxes about their forms, grown by what they ask for, on a
 * coarse grid. Meshes are passed over, since the box about a shell would fill the bay; half-spaces count where they lie
 * square to an axis.
 * @returns bay frame, mm; about the origin where the bay holds nothing yet
 */
export function freshCore(bay: Bay): FreshCore {
  const obstacles = obstaclesOf(bay)
  const region = regionOf(bay, obstacles)
  const middle = each((k) => (region.min[k] + region.max[k]) / 2)
  let best = { share: -1, off: Infinity, at: middle }
  for (const at of gridOf(within(region))) {
    const share = Math.min(1, ...obstacles.map((box) => roomTo(box, at)))
    const off = Math.hypot(...each((k) => (at[k] - middle[k]) / wanted[k]))
    if (share > best.share + 1e-9 || (share > best.share - 1e-9 && off < best.off)) best = { share, off, at }
  }
  const share = Math.max(leastShare, best.share)
  const [depth, width, height] = wanted.map((size) => Math.max(step, Math.floor((size * share) / step) * step))
  const [x, y, z] = best.at.map((mm) => Math.round(mm) + 0)
  return { at: [x, y, z], core: { depth, width, height } }
}

const each = (f: (k: number) => number): Vec3 => [f(0), f(1), f(2)]

/** One box for each form, grown by clearance and uncertainty. */
function obstaclesOf(bay: Bay): Bounds[] {
  const solids = bay.keepOuts
    .filter(({ shape }) => shape.kind !== 'mesh')
    .flatMap((keepOut) => {
      const made = keepOutSolids({ ...bay, keepOuts: [keepOut] }, new Map())
      return made.ok ? made.value : []
    })
  return solids.flatMap(({ keepOut, solid }) => {
    const { required, uncertainty } = askedBy(keepOut)
    const by = required + uncertainty
    return solid.forms
      .map(boundsOf)
      .map(({ min, max }) => ({ min: each((k) => min[k] - by), max: each((k) => max[k] + by) }))
  })
}

/** All that is bounded, and the ports; something about the origin where there is nothing. */
function regionOf({ ports = [] }: Bay, obstacles: readonly Bounds[]): Bounds {
  const bounded = obstacles.filter(({ min, max }) => [...min, ...max].every(Number.isFinite))
  const all = [...bounded, ...ports.map(({ at }) => ({ min: at, max: at }))]
  return all.length > 0 ? unionBounds(all) : { min: [0, 0, 0], max: [0, 0, 0] }
}

/** Where the middle of a core of the wanted size may be for the core to lie within the region; its middle where it does not fit. */
function within({ min, max }: Bounds): Bounds {
  const slack = (k: number) => Math.max(0, max[k] - min[k] - wanted[k]) / 2
  const middle = (k: number) => (min[k] + max[k]) / 2
  return { min: each((k) => middle(k) - slack(k)), max: each((k) => middle(k) + slack(k)) }
}

function gridOf({ min, max }: Bounds): Vec3[] {
  const at = (k: number, i: number) => min[k] + ((max[k] - min[k]) * i) / (places - 1)
  const counts = each((k) => (max[k] > min[k] ? places : 1))
  const grid: Vec3[] = []
  for (let i = 0; i < counts[0]; i++)
    for (let j = 0; j < counts[1]; j++) for (let k = 0; k < counts[2]; k++) grid.push([at(0, i), at(1, j), at(2, k)])
  return grid
}

/** The share of the wanted size at which a core about a place would meet the box; 0 within it. */
const roomTo = ({ min, max }: Bounds, at: Vec3): number =>
  Math.max(...each((k) => (Math.max(0, min[k] - at[k], at[k] - max[k]) * 2) / wanted[k]))
