import type { KeepOut } from '../../core/bay/schema.ts'
import { largest } from '../../core/largest/largest.ts'
import { ellipsoidMesh } from '../kit/hardMeshes.ts'
import { bumpyMesh } from '../kit/meshes.ts'
import { type Random, seeded } from '../kit/random.ts'
import { bareCandidate, keepOut, tinyBay } from '../kit/tinyBay.ts'
import type { Scene } from './scene.ts'

type Corner = [number, number, number]
interface Block {
  readonly low: Corner
  readonly high: Corner
}
const size: Corner = [350, 1500, 600]
const room = { min: [0, 0, 0], max: size } as const

/** Largest cores in made-up rooms: many boxes, more and more triangles, a smooth cavity. */
export function largestRoomScenes(): Scene[] {
  return [boxesScene(100), boxesScene(1000), trianglesScene(), cavityScene()]
}

/** Without clearance a room of boxes is pure combinatorics: whole boxes against the plain method with all of them at once. */
function boxesScene(count: number): Scene {
  const blocks = someBlocks(seeded(7), count, count > 500 ? 0.08 : 0.3)
  const keepOuts = blocks.map(({ low, high }, i) => boxAt(`b${i}`, low, high, 0))
  const cleared = blocks.map(({ low, high }, i) => boxAt(`b${i}`, low, high, 3))
  return {
    name: `largest core among ${count} boxes`,
    inputs: `${count} random boxes in ${size.join(' × ')} mm, touching allowed; and 3 mm asked of each`,
    count: 1,
    aims: [{ way: 'proved to 0.5 %', ms: count > 500 ? 1000 : 300 }],
    ways: [
      { name: 'proved to 0.5 %', most: 3, run: () => litres(keepOuts, 0.005) },
      { name: 'with 3 mm asked, proved to 0.5 %', most: 3, run: () => litres(cleared, 0.005) },
      {
        name: 'pivots, all boxes at once, exact (no clearance)',
        baseline: true,
        most: 1,
        run: () => byPivots(blocks) / 1e6,
      },
    ],
  }
}

/** How the time grows with the triangles of what holds the core: floor and roof as height fields. */
function trianglesScene(): Scene {
  const counts = [3_000, 30_000, 300_000, 1_000_000]
  return {
    name: 'largest core between two scanned skins, by their triangles',
    inputs: `${counts.map((n) => n.toLocaleString('en')).join(', ')} triangles together, 400 × 300 mm, 6 mm asked`,
    count: 1,
    aims: [{ way: '1,000,000 triangles', ms: 1000 }],
    ways: counts.map((count, i) => {
      const columns = Math.round(Math.sqrt(count / 3))
      const meshes = new Map([
        ['floor', bumpyMesh(columns, Math.round(count / 4 / columns), 1)],
        ['roof', bumpyMesh(columns, Math.round(count / 4 / columns), 2)],
      ])
      const skins = [skin('floor', 0, [4, 3, 0]), skin('roof', 120, [184, -2, 0])]
      const bay = tinyBay(skins, bareCandidate({ at: [0, 0, 60], limits: {} }))
      const within = { min: [-150, -120, -20], max: [150, 120, 140] } as const
      return {
        name: `${count.toLocaleString('en')} triangles`,
        baseline: i === 0,
        most: 3,
        run: () => litresOf(largest(bay, undefined, meshes, { within: 0.001, withinBox: within, holds: false })),
      }
    }),
  }
}

function cavityScene(): Scene {
  const meshes = new Map([['skin', ellipsoidMesh([0, 0, 0], [170, 700, 290], 160, 240)]])
  const limits = { centre: { min: [-60, -100, -90] as Corner, max: [60, 100, 90] as Corner } }
  const withinBox = { min: [-175, -750, -300], max: [175, 750, 300] } as const
  const run = (clearance: number) => () => {
    const cavity = keepOut('skin', { kind: 'mesh', file: 'skin', unit: 'mm' }, { clearance })
    const bay = tinyBay([cavity], bareCandidate({ limits }))
    return litresOf(largest(bay, undefined, meshes, { within: 0.01, withinBox, holds: false }))
  }
  return {
    name: 'largest core in a smooth closed cavity, 76,000 triangles, proved to 1 %',
    inputs: 'ellipsoid of 340 × 1400 × 580 mm',
    count: 1,
    aims: [
      { way: '6 mm asked', ms: 5000 },
      { way: '3 mm asked', ms: 5000 },
      { way: 'touching allowed', ms: 5000 },
    ],
    ways: [
      { name: '6 mm asked', baseline: true, most: 2, run: run(6) },
      { name: '3 mm asked', most: 2, run: run(3) },
      { name: 'touching allowed', most: 1, run: run(0) },
    ],
  }
}

const boxAt = (id: string, low: Corner, high: Corner, clearance: number): KeepOut =>
  keepOut(
    id,
    {
      kind: 'box',
      at: low.map((x, k) => (x + high[k]) / 2) as Corner,
      size: low.map((x, k) => high[k] - x) as Corner,
    },
    { clearance },
  )

const skin = (file: string, z: number, turn: Corner): KeepOut =>
  keepOut(file, { kind: 'mesh', file, unit: 'mm', at: [0, 0, z], turn }, { clearance: 6 })

function someBlocks(random: Random, count: number, largestShare: number): Block[] {
  return Array.from({ length: count }, () => {
    const half = size.map((x) => (x * random.real(0.2 * largestShare, largestShare)) / 2)
    const at = size.map((x) => random.real(0, x))
    return { low: at.map((x, k) => x - half[k]) as Corner, high: at.map((x, k) => x + half[k]) as Corner }
  })
}

const litres = (keepOuts: KeepOut[], within: number): number =>
  litresOf(
    largest(tinyBay(keepOuts, bareCandidate({ limits: {} })), undefined, new Map(), {
      within,
      withinBox: room,
      holds: false,
    }),
  )

function litresOf(answer: ReturnType<typeof largest>): number {
  if (!answer.ok || answer.value.answer !== 'found') throw new Error(JSON.stringify(answer))
  return answer.value.value / 1e6
}

/**
 * Largest empty box by pivots: the room, best first; a box with a block in it gives way to at most six smaller ones beside
 * that block. The first empty one is the largest. It knows neither clearance nor tanks.
 * Source: T. M. Breuel, An algorithm for finding maximal whitespace rectangles (2003), from memory, in space.
 */
function byPivots(blocks: readonly Block[]): number {
  const volume = (b: Block) => b.low.reduce((v, x, k) => v * Math.max(0, b.high[k] - x), 1)
  const heap: { box: Block; value: number }[] = [
    { box: { low: [0, 0, 0], high: [...size] }, value: volume({ low: [0, 0, 0], high: size }) },
  ]
  for (;;) {
    const top = taken(heap)
    if (!top) return 0
    const { box } = top
    const pivot = mostCentral(blocks, box)
    if (!pivot) return top.value
    for (let k = 0; k < 3; k++) {
      const below = { low: box.low, high: box.high.map((x, j) => (j === k ? Math.min(x, pivot.low[k]) : x)) as Corner }
      const above = { low: box.low.map((x, j) => (j === k ? Math.max(x, pivot.high[k]) : x)) as Corner, high: box.high }
      for (const half of [below, above]) {
        const value = volume(half)
        if (value > 0) put(heap, { box: half, value })
      }
    }
  }
}

function mostCentral(blocks: readonly Block[], box: Block): Block | undefined {
  let best: Block | undefined
  let least = Infinity
  for (const block of blocks) {
    let off = 0
    let meets = true
    for (let k = 0; k < 3 && meets; k++) {
      meets = block.low[k] < box.high[k] && block.high[k] > box.low[k]
      off += Math.abs(block.low[k] + block.high[k] - box.low[k] - box.high[k]) / (box.high[k] - box.low[k])
    }
    if (!meets || off >= least) continue
    least = off
    best = block
  }
  return best
}

function put(heap: { box: Block; value: number }[], entry: { box: Block; value: number }): void {
  let at = heap.push(entry) - 1
  while (at > 0) {
    const parent = (at - 1) >> 1
    if (heap[parent].value >= entry.value) break
    heap[at] = heap[parent]
    at = parent
  }
  heap[at] = entry
}

function taken(heap: { box: Block; value: number }[]): { box: Block; value: number } | undefined {
  const top = heap[0]
  const last = heap.pop()
  if (!last || heap.length === 0) return top
  let at = 0
  for (let child = 1; child < heap.length; child = 2 * at + 1) {
    if (child + 1 < heap.length && heap[child + 1].value > heap[child].value) child++
    if (heap[child].value <= last.value) break
    heap[at] = heap[child]
    at = child
  }
  heap[at] = last
  return top
}
