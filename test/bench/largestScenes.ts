import { fileURLToPath } from 'node:url'
import { openBay } from '../../app/files/bayFolder.ts'
import { askedBy } from '../../core/bay/defaults.ts'
import { keepOutSolids } from '../../core/bay/keepOuts.ts'
import type { KeepOutSolid, Meshes } from '../../core/bay/part.ts'
import type { Bay, Candidate, Limits } from '../../core/bay/schema.ts'
import { clearance } from '../../core/clearance/clearance.ts'
import { type FitQuestion, fitProblem } from '../kit/secondFit/fit.ts'
import { FitSearch } from '../kit/secondFit/fitSearch.ts'
import { eachDepth, largest } from '../../core/largest/largest.ts'
import { place } from '../../core/largest/place.ts'
import { boxPolytope } from '../../core/shape/polytope.ts'
import { solidFrom } from '../../core/shape/solid.ts'
import type { Vec3 } from '../../core/shape/vec.ts'
import { must } from './ledgerScenes.ts'
import type { Scene } from './scene.ts'

const wide: Limits = {
  depth: { min: 40, max: 130 },
  width: { min: 200, max: 640 },
  height: { min: 100, max: 420 },
  centre: { min: [-110, -30, 100], max: [0, 30, 300] },
}

/** The largest core of the Tarnbeck example, asked in several ways, and the best place for a given one. */
export async function largestScenes(root: URL): Promise<Scene[]> {
  const { bay, meshes } = must(await openBay(fileURLToPath(new URL('assets/tarnbeck/tarnbeck.bay.json', root))))
  const [first] = bay.candidates
  const with_ = (candidate: Candidate): Bay => ({ ...bay, candidates: [candidate] })
  const bare: Candidate = { ...first, tanks: undefined, pipes: [], limits: wide, core: { ...first.core, tolerance: 0 } }
  const boxTanks: Candidate = {
    ...first,
    pipes: [],
    limits: wide,
    tanks: { left: plainTank(first, 'left'), right: plainTank(first, 'right') },
  }
  const litres = (candidate: Candidate, request: Parameters<typeof largest>[3]) => {
    const answer = must(largest(with_(candidate), undefined, meshes, { holds: false, ...request }))
    return answer.answer === 'found' ? answer.value / 1e6 : 0
  }
  const keepOuts = must(keepOutSolids(bay, meshes))
  const question: FitQuestion = { bay: with_(bare), candidate: bare, keepOuts, aim: 'volume', limits: wide }
  return [
    {
      name: 'largest core alone, volume',
      inputs: `${keepOuts.length} keep-outs, ${triangles(meshes)} triangles`,
      count: 1,
      aims: [
        { way: 'proved to 0.1 %', ms: 200 },
        { way: 'proved to 0.01 %', ms: 1000 },
        { way: 'proved to 0.1 %', than: 'grid of 5 mm', times: 20 },
      ],
      ways: [
        { name: 'proved to 0.1 %', run: () => litres(bare, { within: 0.001 }) },
        { name: 'proved to 0.01 %', run: () => litres(bare, { within: 0.0001 }), within: 0.03 },
        {
          name: 'grid of 5 mm, octree and histogram',
          baseline: true,
          most: 1,
          run: () => gridSearch(keepOuts, wide) / 1e6,
        },
        {
          name: 'second search, bounded by the outer box alone, 3,000 nodes',
          most: 1,
          run: () => plain(question, 3000) / 1e6,
        },
      ],
    },
    {
      name: 'largest core with its tanks',
      inputs: 'box-shaped tanks; tapered tanks with ports, stock depths and rows',
      count: 1,
      aims: [
        { way: 'box-shaped tanks, 0.1 %', ms: 200 },
        { way: 'tapered tanks, 0.1 %', ms: 3000 },
        { way: 'tapered tanks, ports, stock and rows, 0.1 %', ms: 3000 },
        { way: 'table over four stock depths, 0.5 %', ms: 1000 },
        { way: 'the same with what holds it', ms: 1000 },
        { way: 'box-shaped tanks, tilt −15° to 15°, 0.5 %', ms: 4000 },
      ],
      ways: [
        { name: 'box-shaped tanks, 0.1 %', baseline: true, run: () => litres(boxTanks, { within: 0.001 }) },
        { name: 'tapered tanks, ports, stock and rows, 0.1 %', run: () => litres(first, { within: 0.001 }) },
        { name: 'the same with what holds it', most: 3, run: () => litres(first, { within: 0.001, holds: true }) },
        {
          name: 'table over four stock depths, 0.5 %',
          most: 3,
          run: () => must(eachDepth(with_(first), undefined, meshes, { holds: false })).length,
        },
        { name: 'tapered tanks, 0.1 %', run: () => litres({ ...first, limits: wide }, { within: 0.001 }) },
        {
          name: 'box-shaped tanks, tilt −15° to 15°, 0.5 %',
          most: 1,
          run: () => litres(boxTanks, { tilt: { min: -15, max: 15 } }),
        },
      ],
    },
    {
      name: 'best place for the chosen candidate, certified to 0.1 mm',
      inputs: '±100 mm along each axis',
      count: 1,
      aims: [
        { way: 'along X, Y and Z', ms: 500 },
        { way: 'and tilt −15° to 15°', ms: 3000 },
      ],
      ways: [
        { name: 'along X, Y and Z', baseline: true, run: () => must(place(bay, undefined, meshes)).margin.atLeast },
        {
          name: 'and tilt −15° to 15°',
          most: 1,
          run: () => must(place(bay, undefined, meshes, { tilt: { min: -15, max: 15 } })).margin.atLeast,
        },
      ],
    },
  ]
}

const plainTank = ({ tanks }: Candidate, side: 'left' | 'right') => {
  const tank = tanks?.[side]
  return tank && { ...tank, taper: undefined, ports: undefined }
}

const triangles = (meshes: Meshes): number =>
  [...meshes.values()].reduce((sum, mesh) => sum + mesh.triangles.length / 3, 0)

function plain(question: FitQuestion, work: number): number {
  const problem = must(fitProblem(question, 0, 0))
  return new FitSearch(problem, { within: 0.005, work, cuts: false, stop: () => null, progress: () => undefined }).run()
    .value
}

/**
 * What one would write without proofs: cells of 5 mm are free where nothing is nearer to them than asked (whole blocks of
 * cells at a time where the distance allows), then the largest box of free cells, by the histogram method for every
 * range of X. It knows no tanks.
 */
function gridSearch(keepOuts: readonly KeepOutSolid[], { centre, depth, width, height }: Limits): number {
  const step = 5
  const size = [depth?.max ?? 0, width?.max ?? 0, height?.max ?? 0]
  const low = [0, 1, 2].map((k) => (centre?.min[k] ?? 0) - size[k] / 2)
  const count = [0, 1, 2].map((k) => Math.floor(((centre?.max[k] ?? 0) + size[k] / 2 - low[k]) / step))
  const free = new Uint8Array(count[0] * count[1] * count[2])
  const fill = (from: number[], to: number[]): void => {
    const at = [0, 1, 2].map((k) => low[k] + (step * (from[k] + to[k])) / 2) as unknown as Vec3
    const sides = [0, 1, 2].map((k) => step * (to[k] - from[k])) as unknown as Vec3
    const block = solidFrom([{ form: 'convex', body: must(boxPolytope(at, sides)) }])
    const single = [0, 1, 2].every((k) => to[k] - from[k] === 1)
    const clear = keepOuts.every(({ keepOut, solid }) => {
      const { required, uncertainty } = askedBy(keepOut)
      const apart = required + uncertainty
      return clearance(block, solid, { upTo: apart, depth: false }).atLeast >= apart
    })
    if (clear)
      for (let x = from[0]; x < to[0]; x++)
        for (let y = from[1]; y < to[1]; y++)
          free.fill(1, (x * count[1] + y) * count[2] + from[2], (x * count[1] + y) * count[2] + to[2])
    if (clear || single) return
    const widest = [0, 1, 2].reduce((p, k) => (to[k] - from[k] > to[p] - from[p] ? k : p), 0)
    const middle = (from[widest] + to[widest]) >> 1
    fill(
      from,
      to.map((v, k) => (k === widest ? middle : v)),
    )
    fill(
      from.map((v, k) => (k === widest ? middle : v)),
      to,
    )
  }
  fill([0, 0, 0], count)
  return largestFree(free, count) * step ** 3
}

function largestFree(free: Uint8Array, [nx, ny, nz]: readonly number[]): number {
  let best = 0
  const plane = new Uint8Array(ny * nz)
  const heights = new Int32Array(nz + 1)
  for (let x0 = 0; x0 < nx; x0++) {
    plane.fill(1)
    for (let x1 = x0; x1 < nx; x1++) {
      let any = 0
      for (let i = 0; i < plane.length; i++) {
        plane[i] &= free[x1 * ny * nz + i]
        any += plane[i]
      }
      if (any * (x1 - x0 + 1) <= best) {
        if (any === 0) break
        continue
      }
      heights.fill(0)
      for (let y = 0; y < ny; y++) {
        for (let z = 0; z < nz; z++) heights[z] = plane[y * nz + z] ? heights[z] + 1 : 0
        best = Math.max(best, (x1 - x0 + 1) * largestUnder(heights))
      }
    }
  }
  return best
}

/** Largest rectangle under a histogram whose last bar is 0 (checks A7.8: 2 1 5 6 2 3 gives 10). */
function largestUnder(heights: Int32Array): number {
  const stack: number[] = []
  let best = 0
  for (let i = 0; i < heights.length; i++) {
    while (stack.length > 0 && heights[stack[stack.length - 1]] >= heights[i]) {
      const height = heights[stack.pop() as number]
      const from = stack.length > 0 ? stack[stack.length - 1] + 1 : 0
      best = Math.max(best, height * (i - from))
    }
    stack.push(i)
  }
  return best
}
