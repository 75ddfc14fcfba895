import type { MeshForm } from '../shape/form.ts'
import { add, product, sub, turned, turnedBack, type Mat3, type Vec3 } from '../shape/vec.ts'
import type { Clearance } from './answer.ts'
import { BoundQueue } from './boundQueue.ts'
import { convexDistance } from './gjk.ts'
import { isInside } from './inside.ts'
import { type MeshTree, meshTree } from './meshTree.ts'
import { emptyNearest, epsilon, type Nearest } from './nearest.ts'
import type { PairClearance } from './pair.ts'
import { intoTree, outOfTree } from './seeker.ts'
import { triangleAt } from './meshSearch.ts'
import { emptySet, setTriangle } from './support.ts'

/**
 * Gap between two meshes.
 * @param a, b  in one frame near the origin, mm; a closed one is solid, an open one a surface
 * @returns bounds in mm. One wholly inside the other, closed one overlaps it. Depth: only that they meet is proved (0), or
 * the distance of an inner vertex to the other's surface where one is wholly inside.
 * Error: ≤ 1e-9 mm + 1e-12 of the largest coordinate unless stopped is 'upTo'.
 * Source: simultaneous best-first search of two trees of boxes: common practice, no source.
 */
export const meshMesh: PairClearance<'mesh', 'mesh'> = (a, b, options): Clearance => {
  const search = new TwoTrees(a, b, options.upTo ?? Infinity)
  const found = search.run()
  const onPart = outOfTree(a, search.treeA, [found.ax, found.ay, found.az])
  const onKeepOut = outOfTree(a, search.treeA, [found.bx, found.by, found.bz])
  const answer: Clearance = { atLeast: found.atLeast, atMost: found.atMost, onPart, onKeepOut, stopped: found.stopped }
  if (found.contact !== 'none') {
    const touch = { ...answer, atLeast: 0, stopped: 'converged' as const }
    return touch.atMost > 0 ? touch : { ...touch, overlap: { kind: 'atLeast', depthAtLeast: 0 } }
  }
  const inB = isInside(search.treeB, intoTree(b, search.treeB, onPart))
  const inA = isInside(search.treeA, intoTree(a, search.treeA, onKeepOut))
  if (!inA && !inB) return answer
  // The inner one's witness is as far from the other's surface as the two surfaces are: a ball of that size is inside.
  const point = inB ? onPart : onKeepOut
  const overlap = { kind: 'atLeast', depthAtLeast: found.atLeast } as const
  return { atLeast: 0, atMost: 0, onPart: point, onKeepOut: point, stopped: 'converged', overlap }
}

class TwoTrees {
  readonly treeA: MeshTree
  readonly treeB: MeshTree
  /** B's tree frame seen from A's: x ↦ turn·x + shift. */
  private readonly turn: Mat3
  private readonly absolute: readonly number[]
  private readonly shift: Vec3
  private readonly queue = new BoundQueue(1024)
  private readonly setA = emptySet()
  private readonly setB = emptySet()
  private readonly trial = emptyNearest()
  private readonly best: Nearest = emptyNearest()
  private readonly slack: number
  private readonly cornersA = new Float64Array(9)
  private cornersB = new Float64Array(0)
  private limit: number
  private lower = Infinity

  constructor(a: MeshForm, b: MeshForm, upTo: number) {
    this.treeA = meshTree(a.mesh)
    this.treeB = meshTree(b.mesh)
    this.limit = upTo
    const t = a.pose.turn
    const back: Mat3 = [t[0], t[3], t[6], t[1], t[4], t[7], t[2], t[5], t[8]]
    this.turn = product(back, b.pose.turn)
    this.absolute = this.turn.map(Math.abs)
    const centreB = add(b.pose.at, turned(b.pose.turn, this.treeB.centre))
    this.shift = sub(turnedBack(t, sub(centreB, a.pose.at)), this.treeA.centre)
    const away = Math.abs(this.shift[0]) + Math.abs(this.shift[1]) + Math.abs(this.shift[2])
    this.slack = 64 * epsilon * (this.treeA.reach + 3 * this.treeB.reach + away)
  }

  run(): Nearest {
    const { queue, best, treeA, treeB } = this
    const upTo = this.limit
    this.offer(0, 0)
    while (queue.take() && queue.bound < this.limit) {
      const a = queue.first
      const b = queue.second
      if (treeA.right[a] < 0 && treeB.right[b] < 0) {
        this.leaves(a, b)
        if (best.contact !== 'none') return best
      } else if (treeB.right[b] < 0 || (treeA.right[a] >= 0 && size(treeA, a) >= size(treeB, b))) {
        this.offer(a + 1, b)
        this.offer(treeA.right[a], b)
      } else {
        this.offer(a, b + 1)
        this.offer(a, treeB.right[b])
      }
    }
    if (best.atMost === Infinity) this.anyPair()
    best.atLeast = Math.max(0, Math.min(best.atMost, this.lower, this.limit) - this.slack)
    best.stopped =
      best.atLeast >= upTo - this.slack && best.atMost - best.atLeast > 2 * this.slack + 1e-9 ? 'upTo' : 'converged'
    return best
  }

  /** Nothing within upTo: some pair of triangles gives the upper bound its witnesses. */
  private anyPair(): void {
    this.loadB(0, 1)
    setTriangle(this.setA, triangleAt(this.treeA, 0, this.cornersA))
    setTriangle(this.setB, this.cornersB)
    convexDistance(this.setA, this.setB, Infinity, this.best)
  }

  private offer(a: number, b: number): void {
    const bound = this.boxBound(6 * a, 6 * b)
    if (bound < this.limit) this.queue.push(bound, a, b)
  }

  /** Lower bound of the distance of two boxes: the gaps along A's axes together, or along B's, whichever is more. */
  private boxBound(a: number, b: number): number {
    const p = this.treeA.boxes
    const q = this.treeB.boxes
    const [r0, r1, r2, r3, r4, r5, r6, r7, r8] = this.turn
    const m = this.absolute
    const bx = (q[b] + q[b + 3]) / 2
    const by = (q[b + 1] + q[b + 4]) / 2
    const bz = (q[b + 2] + q[b + 5]) / 2
    const kx = (q[b + 3] - q[b]) / 2
    const ky = (q[b + 4] - q[b + 1]) / 2
    const kz = (q[b + 5] - q[b + 2]) / 2
    const hx = (p[a + 3] - p[a]) / 2
    const hy = (p[a + 4] - p[a + 1]) / 2
    const hz = (p[a + 5] - p[a + 2]) / 2
    const dx = r0 * bx + r1 * by + r2 * bz + this.shift[0] - (p[a] + p[a + 3]) / 2
    const dy = r3 * bx + r4 * by + r5 * bz + this.shift[1] - (p[a + 1] + p[a + 4]) / 2
    const dz = r6 * bx + r7 * by + r8 * bz + this.shift[2] - (p[a + 2] + p[a + 5]) / 2
    const alongA = together(
      Math.abs(dx) - hx - (m[0] * kx + m[1] * ky + m[2] * kz),
      Math.abs(dy) - hy - (m[3] * kx + m[4] * ky + m[5] * kz),
      Math.abs(dz) - hz - (m[6] * kx + m[7] * ky + m[8] * kz),
    )
    const alongB = together(
      Math.abs(r0 * dx + r3 * dy + r6 * dz) - kx - (m[0] * hx + m[3] * hy + m[6] * hz),
      Math.abs(r1 * dx + r4 * dy + r7 * dz) - ky - (m[1] * hx + m[4] * hy + m[7] * hz),
      Math.abs(r2 * dx + r5 * dy + r8 * dz) - kz - (m[2] * hx + m[5] * hy + m[8] * hz),
    )
    return Math.max(alongA, alongB) - this.slack
  }

  private loadB(first: number, count: number): void {
    if (this.cornersB.length < 9 * count) this.cornersB = new Float64Array(9 * count)
    const { corners, positions } = this.treeB
    const [r0, r1, r2, r3, r4, r5, r6, r7, r8] = this.turn
    const [sx, sy, sz] = this.shift
    for (let i = 0; i < 3 * count; i++) {
      const v = 3 * corners[3 * first + i]
      const x = positions[v]
      const y = positions[v + 1]
      const z = positions[v + 2]
      this.cornersB[3 * i] = r0 * x + r1 * y + r2 * z + sx
      this.cornersB[3 * i + 1] = r3 * x + r4 * y + r5 * z + sy
      this.cornersB[3 * i + 2] = r6 * x + r7 * y + r8 * z + sz
    }
  }

  private leaves(a: number, b: number): void {
    const { treeA, treeB, trial, best } = this
    this.loadB(treeB.first[b], treeB.count[b])
    for (let i = treeA.first[a]; i < treeA.first[a] + treeA.count[a]; i++) {
      setTriangle(this.setA, triangleAt(treeA, i, this.cornersA))
      for (let j = 0; j < treeB.count[b]; j++) {
        if (this.trianglesFar(9 * j)) continue
        setTriangle(this.setB, this.cornersB, 9 * j)
        convexDistance(this.setA, this.setB, this.limit, trial)
        if (trial.atLeast < this.lower) this.lower = trial.atLeast
        if (trial.stopped === 'upTo' || (trial.atMost >= best.atMost && trial.contact === 'none')) continue
        Object.assign(best, trial)
        if (best.contact !== 'none') return
        if (best.atMost < this.limit) this.limit = best.atMost
      }
    }
  }

  private trianglesFar(j: number): boolean {
    const p = this.cornersA
    const q = this.cornersB
    let squared = 0
    for (let k = 0; k < 3; k++) {
      const lowA = Math.min(p[k], p[3 + k], p[6 + k])
      const highA = Math.max(p[k], p[3 + k], p[6 + k])
      const lowB = Math.min(q[j + k], q[j + 3 + k], q[j + 6 + k])
      const highB = Math.max(q[j + k], q[j + 3 + k], q[j + 6 + k])
      const apart = Math.max(lowA - highB, lowB - highA, 0)
      squared += apart * apart
    }
    const limit = this.limit + this.slack
    return squared >= limit * limit
  }
}

function together(x: number, y: number, z: number): number {
  const a = x > 0 ? x : 0
  const b = y > 0 ? y : 0
  const c = z > 0 ? z : 0
  return Math.sqrt(a * a + b * b + c * c)
}

function size(tree: MeshTree, node: number): number {
  const { boxes } = tree
  const at = 6 * node
  return boxes[at + 3] - boxes[at] + boxes[at + 4] - boxes[at + 1] + boxes[at + 5] - boxes[at + 2]
}
