import type { KeepOutSolid } from '../bay/part.ts'
import type { Candidate } from '../bay/schema.ts'
import { boxGap, formBounds } from '../clearance/formBounds.ts'
import { setOf } from '../clearance/support.ts'
import type { Bounds, Form, Solid } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import type { Vec3 } from '../shape/vec.ts'
import { type ConvexTarget, convexPoint } from './convexPoint.ts'
import { type TooNear, meshPoint } from './meshPoint.ts'
import { obstacleStride, type Obstacles, SeenObstacles } from './obstacles.ts'
import { mountBodies } from './mountPieces.ts'
import { bodiesAt, type PartBody } from './partBodies.ts'
import type { PartPieces } from './partPieces.ts'
import { type Found, mostPieces } from './problem.ts'
import { roundPoint } from './roundPoint.ts'
import { apartSquared } from './secant.ts'
import type { View } from './view.ts'

/** A keep-out and what it asks of every part, the part's tolerance not yet counted, mm. */
export interface Asked {
  readonly keepOut: KeepOutSolid
  readonly apart: number
  /** Names of the mounts that are fixed to it: they are not held against it. */
  readonly except?: readonly string[]
}

interface FormTarget {
  readonly form: Form
  readonly bounds: Bounds
  readonly solid: Solid
  readonly convex?: ConvexTarget
  /** An obstacle that is the whole form: a box along the view's axes. */
  readonly whole?: number
}

interface Target {
  readonly number: number
  readonly except: readonly string[]
  readonly apart: number
  readonly bounds: Bounds
  readonly forms: readonly FormTarget[]
}

/** Asks the keep-outs about cores of any size: which points of them are too near, as obstacles for the search. */
export class Asker {
  private readonly candidate: Candidate
  private readonly parts: PartPieces
  private readonly obstacles: Obstacles
  private readonly targets: readonly Target[]
  private readonly known = new Map<string, number>()
  private readonly told = new Set<number>()
  private readonly seen: SeenObstacles
  /** Times it was asked. */
  count = 0

  /** @param view where it has no range, boxes along its axes are taken as a whole */
  constructor(candidate: Candidate, parts: PartPieces, obstacles: Obstacles, asked: readonly Asked[], view: View) {
    this.candidate = candidate
    this.parts = parts
    this.obstacles = obstacles
    this.targets = asked.map(({ keepOut, apart, except = [] }, number) => ({
      number,
      except,
      apart,
      bounds: keepOut.solid.bounds,
      // Half-spaces are walls of the problem and need not be asked.
      forms: keepOut.solid.forms
        .filter((form) => form.form !== 'halfSpace')
        .map((form) => this.targetOf(form, number, apart, view)),
    }))
    this.seen = new SeenObstacles(view, obstacles, 0)
  }

  private targetOf(form: Form, number: number, apart: number, view: View): FormTarget {
    const solid = solidFrom([form])
    const bounds = formBounds(form)
    if (form.form !== 'convex') return { form, bounds, solid }
    const convex = { body: form.body, set: setOf(form.body) }
    const box = view.half === 0 ? alongAxes(form, view) : undefined
    if (!box) return { form, bounds, solid, convex }
    return { form, bounds, solid, convex, whole: this.obstacles.add({ keepOut: number, apart, ...box }) }
  }

  ask(faces: Float64Array, view: View, ignore: number, extra: number): Found {
    this.count++
    const bodies = [...bodiesAt(this.candidate, faces, view), ...mountBodies(this.candidate, faces, view)]
    const sets = bodies.map(({ body }) => setOf(body))
    const codes: number[] = []
    let clear = true
    for (const target of this.targets) {
      bodies.forEach((part, b) => {
        if (target.except.includes(part.part)) return
        const asked = target.apart + part.tolerance + extra
        if (boxGap(part.bounds, target.bounds) >= asked - ignore) return
        const worst = this.worstOf(target, part, { body: part.body, set: sets[b] }, asked, ignore, faces, view)
        if (!worst) return
        clear = false
        this.teach(target, part, worst, faces, view, ignore, codes)
      })
    }
    return { clear, codes }
  }

  private worstOf(
    target: Target,
    part: PartBody,
    convex: ConvexTarget,
    asked: number,
    ignore: number,
    faces: Float64Array,
    view: View,
  ): (TooNear & { whole?: number }) | undefined {
    let worst: (TooNear & { whole?: number }) | undefined
    for (const form of target.forms) {
      if (boxGap(part.bounds, form.bounds) >= asked - ignore) continue
      const found = this.pointOf(form, part, convex, asked, ignore, faces, view)
      if (found && found.by > (worst?.by ?? ignore)) worst = { ...found, whole: form.whole }
    }
    return worst
  }

  private pointOf(
    target: FormTarget,
    part: PartBody,
    convex: ConvexTarget,
    asked: number,
    ignore: number,
    faces: Float64Array,
    view: View,
  ): TooNear | undefined {
    const { form } = target
    if (target.whole !== undefined && this.parts.isWhole(part))
      return this.boxToBox(target.whole, part, asked, ignore, faces, view)
    switch (form.form) {
      case 'convex':
        return target.convex && convexPoint(convex, target.convex, asked, ignore)
      case 'mesh':
        return meshPoint(part.body, form, asked, ignore)
      case 'round':
        return roundPoint(solidFrom([{ form: 'convex', body: part.body }]), target.solid, form, asked, ignore)
      case 'halfSpace':
        return undefined
    }
  }

  /** Two boxes along the same axes, by their faces alone. */
  private boxToBox(
    whole: number,
    part: PartBody,
    asked: number,
    ignore: number,
    faces: Float64Array,
    view: View,
  ): TooNear | undefined {
    const [piece] = this.parts.baseOf(part.part)
    const { numbers } = this.seen
    const { numbers: p } = this.parts.pieces
    const x = faces.length > 6 ? faces : Float64Array.of(...faces, 0)
    const squared = apartSquared(numbers, p, whole * obstacleStride, piece, x)
    const by = asked - Math.sqrt(squared)
    if (squared > 0) return by > ignore ? { at: view.pivot, room: 0, by } : undefined
    let depth = Infinity
    for (let k = 0; k < 3; k++) {
      const o = whole * obstacleStride
      const q = piece * 18 + 6 * k
      const low = p[q] * x[k] + p[q + 1] * x[3 + k] + p[q + 2]
      const high = p[q + 3] * x[k] + p[q + 4] * x[3 + k] + p[q + 5]
      depth = Math.min(depth, high - numbers[o + k], numbers[o + 3 + k] - low)
    }
    return asked + depth > ignore ? { at: view.pivot, room: 0, by: asked + depth } : undefined
  }

  /** Makes an obstacle of what was found, and the codes of the pairs that are not known yet. */
  private teach(
    target: Target,
    part: PartBody,
    { at, room, onPart, whole }: TooNear & { whole?: number },
    faces: Float64Array,
    view: View,
    ignore: number,
    codes: number[],
  ): void {
    const isWhole = whole !== undefined
    const obstacle = isWhole ? whole : this.obstacleAt(target, at, room, ignore)
    if (!this.told.has(obstacle)) {
      this.told.add(obstacle)
      for (const piece of this.parts.base)
        if (!target.except.includes(this.parts.pieces.list[piece].part)) codes.push(obstacle * mostPieces + piece)
    }
    let piece: number | undefined
    if (this.parts.isWhole(part)) [piece] = this.parts.baseOf(part.part)
    else {
      const ball = view.seen(at)
      const apart = target.apart + part.tolerance + room
      piece = this.parts.at(part, { ball, apart, onPart: onPart ? view.seen(onPart) : ball }, faces)
    }
    if (piece === undefined) return
    const code = obstacle * mostPieces + piece
    if (!codes.includes(code)) codes.push(code)
  }

  /** Points that lie closer to each other than what is ignored are one. */
  private obstacleAt(target: Target, at: Vec3, room: number, ignore: number): number {
    const keys = [coarse, fine].map((grain) =>
      [target.number, grain, ...[...at, room].map((x) => Math.round(x / grain))].join(' '),
    )
    const there = this.known.get(keys[ignore >= 2 * coarse ? 0 : 1])
    if (there !== undefined) return there
    const obstacle = this.obstacles.add({ keepOut: target.number, at, half: [0, 0, 0], apart: target.apart + room })
    for (const key of keys) if (!this.known.has(key)) this.known.set(key, obstacle)
    return obstacle
  }
}

const coarse = 1e-3
const fine = 1e-6

/** A box whose faces lie along the view's axes, to rounding. */
function alongAxes(form: Form, view: View): { at: Vec3; half: Vec3 } | undefined {
  if (form.form !== 'convex' || form.body.kind !== 'polytope' || form.body.planes.length !== 24) return undefined
  const { planes, vertices } = form.body
  for (let i = 0; i < 24; i += 4) {
    const n = view.directionSeen([planes[i], planes[i + 1], planes[i + 2]])
    if (!n.some((x) => Math.abs(Math.abs(x) - 1) < 1e-15)) return undefined
  }
  const low = [Infinity, Infinity, Infinity]
  const high = [-Infinity, -Infinity, -Infinity]
  for (let i = 0; i < vertices.length; i += 3) {
    const seen = view.seen([vertices[i], vertices[i + 1], vertices[i + 2]])
    for (let k = 0; k < 3; k++) {
      low[k] = Math.min(low[k], seen[k])
      high[k] = Math.max(high[k], seen[k])
    }
  }
  const middle: Vec3 = [low[0] / 2 + high[0] / 2, low[1] / 2 + high[1] / 2, low[2] / 2 + high[2] / 2]
  const { at } = view.poseAt(middle)
  return { at, half: [(high[0] - low[0]) / 2, (high[1] - low[1]) / 2, (high[2] - low[2]) / 2] }
}
