import type { MeshForm, RoundForm } from '../shape/form.ts'
import { add, turned, type Vec3 } from '../shape/vec.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'
import { BoundQueue } from './boundQueue.ts'
import { windingNumber } from './inside.ts'
import { nearestOnMesh, triangleAt } from './meshSearch.ts'
import { type MeshTree, meshTree } from './meshTree.ts'
import { epsilon } from './nearest.ts'
import { endWidthAfter, widest } from './searchEnd.ts'
import { intoTree, outOfTree, pointSeeker } from './seeker.ts'
import { spanBoxBound } from './spanBox.ts'
import { SpanTriangle } from './spanTriangle.ts'
import { depthAtLeast, type Room } from './tubeDepth.ts'
import { touch, touchSize } from './tubeDiscs.ts'
import { spanStride, TubeSpans } from './tubeSpans.ts'

/** Pairs of a span and a triangle or box looked at before the bounds are given as they are. */
const mostPairs = 2_000_000
/** An arc's span is halved before a box is opened if its slack is more than this share of the box's longest side. */
const slackShare = 0.1

/**
 * Gap between a round sweep with flat ends and a mesh.
 * @param part    round sweep, mm; exact circles, nothing tessellated
 * @param keepOut mesh in the same frame; closed: solid, open: a surface without an inside
 * @param options `near` starts from the mesh's point nearest to the former witness
 * @returns bounds in mm; touching, overlapping or one inside the other 0, with `depthAtLeast` (see `tubeDepth.ts`)
 * Error: atMost − atLeast ≤ 1e-8 mm, up to 1e-4 where very many places are equally near (`endWidthAfter`), + rounding
 *        (1e-13 of the largest coordinate), unless stopped is not 'converged'.
 *
 * Method: best-first over pairs of a span of the centreline and a box of the mesh's tree, in the tree's frame, with one
 * upper bound for all; an arc's span is halved while it is the coarser of the two. Boxes end in triangles
 * (`spanTriangle.ts`), arcs before a triangle are halved until the bounds meet.
 * Nearest points may jump between equal triangles; the gap is continuous in the pose.
 * Source: derived; best-first branch and bound over a tree of boxes: common practice, no source.
 */
export function roundMesh(part: RoundForm, keepOut: MeshForm, options: ClearanceOptions): Clearance {
  return new Search(part, keepOut, options).answer()
}

// Room for one call of `roundMesh`, which does not call itself: no state survives it.
const queue = new BoundQueue(1024)
const pair = new SpanTriangle()

class Search {
  private readonly form: MeshForm
  private readonly tree: MeshTree
  private readonly tube: TubeSpans
  private readonly options: ClearanceOptions
  private readonly slack: number
  /** Sum of both largest coordinates, mm. */
  private readonly reach: number
  /** Least bound of the pairs that need no more halving. */
  private settled = Number.POSITIVE_INFINITY
  private halvings = 0

  constructor(round: RoundForm, form: MeshForm, options: ClearanceOptions) {
    this.form = form
    this.options = options
    this.tree = meshTree(form.mesh)
    const { turn, at } = form.pose
    this.tube = new TubeSpans(round, { turn, at: add(at, turned(turn, this.tree.centre)) })
    this.reach = this.tube.reach + this.tree.reach
    this.slack = this.tube.rounding + 32 * epsilon * this.tree.reach
    queue.clear()
    pair.begin(this.tube, endWidthAfter(0, this.reach))
  }

  answer(): Clearance {
    const { tube, slack, form, tree } = this
    if (this.options.near) this.startFrom(this.options.near.onKeepOut)
    for (let span = 0; span < tube.pieces; span++) this.offer(span, 0, Number.NEGATIVE_INFINITY)
    const stopped = this.search(this.options.upTo ?? Number.POSITIVE_INFINITY)
    const isInside = pair.best > slack && this.isTubeInside()
    // Within rounding a touch cannot be told from a gap or from a depth that the kernel's simplex lies flat in: all meet.
    if (isInside || pair.best <= slack) return this.overlap(isInside)
    const atLeast = Math.min(pair.best, queue.least(), this.settled) - slack
    const isWide = pair.best - atLeast > widest + 2 * slack
    return {
      atLeast: Math.max(0, atLeast),
      atMost: pair.best,
      onPart: outOfTree(form, tree, pointOf(pair.onTube)),
      onKeepOut: outOfTree(form, tree, pointOf(pair.onMesh)),
      stopped: stopped === 'converged' && isWide ? 'limit' : stopped,
    }
  }

  /** Nearest point of the mesh to a former witness, and of the tube to that: an upper bound to begin with. */
  private startFrom(witness: Vec3): void {
    const { tube, tree } = this
    const there = nearestOnMesh(pointSeeker(intoTree(this.form, tree, witness)), tree, Number.POSITIVE_INFINITY)
    const out = new Float64Array(touchSize)
    for (let span = 0; span < tube.pieces; span++)
      pair.offer(touch(tube, span, there.bx, there.by, there.bz, out), out, there.bx, there.by, there.bz)
  }

  private search(upTo: number): Clearance['stopped'] {
    for (let looked = 0; pair.best > 0 && queue.least() < Math.min(pair.best - pair.width, this.settled); looked++) {
      if (queue.least() - this.slack >= upTo && pair.best < Number.POSITIVE_INFINITY) return 'upTo'
      if (looked > mostPairs) return 'limit'
      queue.take()
      if (queue.second < 0) this.halve(queue.first, ~queue.second, queue.bound)
      else this.open(queue.first, queue.second)
    }
    return 'converged'
  }

  /** Queues a span and a box of the tree if they may be nearer than what is known. */
  private offer(span: number, node: number, known: number): void {
    const { boxes } = this.tree
    const { best, width } = pair
    const b = 6 * node
    const bound = spanBoxBound(
      this.tube,
      span,
      boxes[b],
      boxes[b + 1],
      boxes[b + 2],
      boxes[b + 3],
      boxes[b + 4],
      boxes[b + 5],
      best,
    )
    const least = Math.max(bound, known)
    if (least < best - width) queue.push(least, span, node)
    else this.settle(least)
  }

  private settle(bound: number): void {
    if (bound < this.settled) this.settled = bound
  }

  private open(span: number, node: number): void {
    const { tree, tube } = this
    const { boxes, right } = tree
    const known = queue.bound
    const b = 6 * node
    const size = Math.max(boxes[b + 3] - boxes[b], boxes[b + 4] - boxes[b + 1], boxes[b + 5] - boxes[b + 2])
    if (tube.spans[spanStride * span + 7] > slackShare * size) {
      const half = tube.halve(span)
      this.offer(half, node, known)
      this.offer(half + 1, node, known)
    } else if (right[node] >= 0) {
      this.offer(span, node + 1, known)
      this.offer(span, right[node], known)
    } else {
      const end = tree.first[node] + tree.count[node]
      for (let t = tree.first[node]; t < end; t++) this.measure(span, t, known)
    }
  }

  private measure(span: number, triangle: number, known: number): void {
    triangleAt(this.tree, triangle, pair.corners)
    const bound = Math.max(known, pair.bound(span))
    if (bound >= pair.best - pair.width || this.tube.isStraight(span)) this.settle(bound)
    else queue.push(bound, span, ~triangle)
  }

  private halve(span: number, triangle: number, known: number): void {
    pair.width = endWidthAfter(++this.halvings, this.reach)
    const half = this.tube.halve(span)
    this.measure(half, triangle, known)
    this.measure(half + 1, triangle, known)
  }

  /** The surfaces are apart, so either all of the tube is inside the closed mesh or none. */
  private isTubeInside(): boolean {
    const { tree, tube, form } = this
    if (!form.mesh.closed) return false
    const [x, y, z] = [tube.spans[0], tube.spans[1], tube.spans[2]]
    const { boxes } = tree
    const isOut = x < boxes[0] || y < boxes[1] || z < boxes[2] || x > boxes[3] || y > boxes[4] || z > boxes[5]
    return !isOut && (windingNumber(tree, x, y, z) ?? 0) !== 0
  }

  private overlap(isInside: boolean): Clearance {
    const { tree, tube, form } = this
    const depth = this.options.depth !== false
    const witness = pointOf(isInside ? pair.onTube : pair.onMesh)
    const at = outOfTree(form, tree, witness)
    return {
      atLeast: 0,
      atMost: 0,
      onPart: isInside ? at : outOfTree(form, tree, pointOf(pair.onTube)),
      onKeepOut: at,
      stopped: 'converged',
      overlap: depth
        ? depthAtLeast(tube, roomInMesh(tree), [witness, pointOf(pair.onTube)])
        : { kind: 'atLeast', depthAtLeast: 0 },
    }
  }
}

const pointOf = (p: Float64Array): Vec3 => [p[0], p[1], p[2]]

/** Room in a mesh, see `Room`: distance to its surface inside a closed one, else minus that. Tree frame. */
export function roomInMesh(tree: MeshTree): Room {
  return (y, wanted) => {
    const isInside = tree.mesh.closed && (windingNumber(tree, y[0], y[1], y[2]) ?? 0) !== 0
    if (isInside) return nearestOnMesh(pointSeeker(y), tree, Number.POSITIVE_INFINITY).atLeast
    if (wanted >= 0) return Number.NEGATIVE_INFINITY
    return -nearestOnMesh(pointSeeker(y), tree, -wanted).atMost
  }
}
