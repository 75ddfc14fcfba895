import { askedBy } from '../../../core/bay/defaults.ts'
import type { KeepOutSolid, Part } from '../../../core/bay/part.ts'
import { candidateParts } from '../../../core/bay/parts.ts'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import { clearance } from '../../../core/clearance/clearance.ts'
import { boxGap } from '../../../core/clearance/formBounds.ts'
import type { Polytope, Solid } from '../../../core/shape/form.ts'
import { dot, sub, turnedBack, type Vec3 } from '../../../core/shape/vec.ts'
import {
  type Axes,
  axesOf,
  candidateAt,
  coreBox,
  type Faces,
  type Follower,
  type FollowingBox,
  facesOf,
  intoAxes,
  isTapered,
  tankBox,
} from './fitFrame.ts'
import { type Row, solveProgram } from './fitProgram.ts'
import { distanceTo, kept, type Rule } from './fitRule.ts'
import { deepInBoth } from '../../../core/largest/placeBody.ts'

/** The clearance engine, asked about cores of any size: what they break, and what that teaches. */
export class FitEngine {
  readonly candidate: Candidate
  private readonly bay: Bay
  private readonly keepOuts: readonly KeepOutSolid[]
  readonly axes: Axes
  private readonly stubs = new Map<string, (along: Vec3) => FollowingBox>()
  /** Times the engine was asked: the unit in which work is counted. */
  asked = 0

  constructor(bay: Bay, candidate: Candidate, keepOuts: readonly KeepOutSolid[], pivot: Vec3) {
    this.bay = bay
    this.candidate = { ...candidate, pipes: [] }
    this.keepOuts = keepOuts
    this.axes = axesOf(candidate, pivot)
    this.learnStubs()
  }

  partsAt(faces: Faces): readonly Part[] {
    const made = candidateParts(this.bay, candidateAt(this.candidate, this.axes, faces))
    if (!made.ok) throw new Error(JSON.stringify(made.faults))
    return made.value.parts
  }

  /**
   * Rules that the core between these faces breaks by more than `ignore` mm, one a part and keep-out: the point of the
   * keep-out that is nearest, or deepest in.
   */
  broken(faces: Faces, ignore: number, eased?: { keepOut: string; by: number }): Rule[] {
    this.asked++
    this.current = faces
    const rules: Rule[] = []
    for (const part of this.partsAt(faces))
      for (const { id, keepOut, solid } of this.keepOuts) {
        const { required, uncertainty } = askedBy(keepOut)
        const apart = required + uncertainty + part.tolerance - (eased?.keepOut === id ? eased.by : 0)
        if (boxGap(part.solid.bounds, solid.bounds) >= apart + kept) continue
        const answer = clearance(part.solid, solid, { upTo: apart + kept })
        if (answer.atLeast >= apart + kept - ignore) continue
        rules.push(
          ...this.rulesFrom(
            part,
            id,
            solid,
            apart,
            answer.onPart,
            answer.onKeepOut,
            answer.overlap !== undefined,
            faces,
          ),
        )
      }
    return rules
  }

  private rulesFrom(
    part: Part,
    keepOut: string,
    solid: Solid,
    apart: number,
    onPart: Vec3,
    onKeepOut: Vec3,
    overlapping: boolean,
    faces: Faces,
  ): Rule[] {
    const point = intoAxes(this.axes, onKeepOut)
    const boxes = this.boxesAt(part, intoAxes(this.axes, onPart), point, faces)
    const { from, to } = this.obstacleAt(solid, point)
    const rules = boxes.map((box): Rule => ({ box, from, to, apart, keepOut }))
    if (!overlapping) return rules
    // A ball that lies in the keep-out is kept clear of as a whole: its middle, by so much more.
    const middle = deepInBoth(part.solid, solid)
    if (!middle) return rules
    const room = roomIn(solid, middle)
    const inside = intoAxes(this.axes, middle)
    const deep = this.obstacleAt(solid, inside)
    return [
      ...rules,
      ...boxes.map((box): Rule => ({ box, from: inside, to: inside, apart: apart + room, keepOut })),
      ...boxes.map((box): Rule => ({ box, ...deep, apart, keepOut })),
    ]
  }

  /** The widest box about a point that lies in one convex piece of a keep-out; the point itself where there is none. */
  private obstacleAt(solid: Solid, point: Vec3): { from: Vec3; to: Vec3 } {
    let best: { from: Vec3; to: Vec3 } = { from: point, to: point }
    let widest = 0
    for (const form of solid.forms) {
      if (form.form !== 'convex' || form.body.kind !== 'polytope') continue
      const box = inscribedBox(this.planesInAxes(form.body), point)
      const width = box ? box.to.reduce((sum, x, k) => sum + x - box.from[k], 0) : 0
      if (box && width > widest) {
        best = box
        widest = width
      }
    }
    return best
  }

  private readonly planes = new WeakMap<Polytope, Row[]>()
  /** Face planes in the candidate's axes as rows −n·x ≥ −offset. */
  private planesInAxes(body: Polytope): Row[] {
    let rows = this.planes.get(body)
    if (!rows) {
      const { planes } = body
      rows = Array.from({ length: planes.length / 4 }, (_, i): Row => {
        const n: Vec3 = [planes[4 * i], planes[4 * i + 1], planes[4 * i + 2]]
        const local = turnedBack(this.axes.turn, n)
        return { a: Float64Array.from(local, (x) => -x), b: dot(n, this.axes.pivot) - planes[4 * i + 3] }
      })
      this.planes.set(body, rows)
    }
    return rows
  }

  /** Boxes in the part that come nearest to the point: the core, the tank up to the section at the contact, a point of a stub. */
  private boxesAt(part: Part, onPart: Vec3, point: Vec3, faces: Faces): FollowingBox[] {
    if (part.kind === 'core') return [coreBox]
    if (part.kind === 'stub') {
      const place = this.stubs.get(part.name)
      return place ? [place(onPart)] : []
    }
    const side = part.name === 'tank-left' ? 'left' : 'right'
    if (!isTapered(this.candidate, side)) return [tankBox(this.candidate, side, 1)]
    const length = this.candidate.tanks?.[side]?.length ?? 1
    const from = side === 'left' ? faces[1] : faces[4]
    const share = Math.min(1, Math.max(0, Math.abs(onPart[1] - from) / length))
    // The coarsest section that shows nearly all of it: coarse ones are met again and again.
    for (const steps of [4, 16, 64]) {
      const rounded = Math.round(share * steps) / steps
      const box = tankBox(this.candidate, side, rounded)
      const exact = tankBox(this.candidate, side, share)
      const rule = (of: FollowingBox): Rule => ({ box: of, from: point, to: point, apart: 0, keepOut: '' })
      if (distanceTo(rule(box), faces) <= distanceTo(rule(exact), faces) + 0.25) return [box]
    }
    return [tankBox(this.candidate, side, share)]
  }

  /** Points of a stub follow the faces; how, is read off by moving each face. */
  private learnStubs(): void {
    const base = facesOf(this.candidate, this.axes)
    const at = (faces: Faces) => this.partsAt(faces).filter((part) => part.kind === 'stub')
    const startOf = (part: Part): Vec3 => {
      const [form] = part.solid.forms
      if (form.form !== 'convex' || form.body.kind !== 'cylinder') throw new Error('a stub is a cylinder')
      return intoAxes(this.axes, form.body.from)
    }
    const still = at(base)
    const starts = Array.from({ length: 6 }, (_, j) => {
      const faces = base.slice()
      faces[j] += j < 3 ? -8 : 8
      return at(faces).map(startOf)
    })
    still.forEach((part, i) => {
      const start = startOf(part)
      const followers = [0, 1, 2].map((k): Follower => {
        const onLow = (starts[k][i][k] - start[k]) / -8
        const onHigh = (starts[3 + k][i][k] - start[k]) / 8
        return { onLow, onHigh, offset: start[k] - onLow * base[k] - onHigh * base[3 + k] }
      })
      this.stubs.set(part.name, (point) => {
        // The point keeps its place beside the stub's beginning.
        const beside = this.beside(part.name, point)
        const side = followers.map((f, k) => ({ ...f, offset: f.offset + beside[k] })) as [Follower, Follower, Follower]
        return { part: part.name, low: side, high: side }
      })
      this.stubStarts.set(part.name, followers)
    })
  }

  private readonly stubStarts = new Map<string, readonly Follower[]>()
  private current: Faces = new Float64Array(6)
  private beside(name: string, point: Vec3): Vec3 {
    const followers = this.stubStarts.get(name) ?? []
    const start = followers.map((f, k) => f.onLow * this.current[k] + f.onHigh * this.current[3 + k] + f.offset)
    return sub(point, [start[0], start[1], start[2]])
  }

  /** Exact rows for half-spaces: the lowest corner of each part stays far enough above. */
  halfSpaceRows(eased?: { keepOut: string; by: number }, looser = 0): Row[] {
    const rows: Row[] = []
    for (const { id, keepOut, solid } of this.keepOuts)
      for (const form of solid.forms) {
        if (form.form !== 'halfSpace') continue
        const { required, uncertainty } = askedBy(keepOut)
        const n = turnedBack(this.axes.turn, form.normal)
        const offset = dot(form.normal, sub(form.point, this.axes.pivot))
        for (const { box, tolerance } of this.solidBoxes()) {
          const apart = required + uncertainty + tolerance - (eased?.keepOut === id ? eased.by : 0)
          rows.push(cornerRow(box, n, offset + apart - looser - 1e-9))
        }
      }
    return rows
  }

  private solidBoxes(): { box: FollowingBox; tolerance: number }[] {
    const { core, tanks } = this.candidate
    return [
      { box: coreBox, tolerance: core.tolerance ?? 0 },
      ...(['left', 'right'] as const).flatMap((side) => {
        const tank = tanks?.[side]
        return tank
          ? [0, 1].map((share) => ({ box: tankBox(this.candidate, side, share), tolerance: tank.tolerance ?? 0 }))
          : []
      }),
    ]
  }
}

/** n · (lowest corner of the box along n) ≥ least. */
function cornerRow(box: FollowingBox, n: Vec3, least: number): Row {
  const a = new Float64Array(6)
  let b = least
  for (let k = 0; k < 3; k++) {
    const follower = n[k] > 0 ? box.low[k] : box.high[k]
    a[k] += n[k] * follower.onLow
    a[3 + k] += n[k] * follower.onHigh
    b -= n[k] * follower.offset
  }
  return { a, b }
}

/**
 * A box that holds the point and lies within the planes, with the greatest sum of its sides; undefined where the point does
 * not lie within them. Drawn in by a grain, so that it lies inside for sure.
 */
function inscribedBox(planes: readonly Row[], point: Vec3): { from: Vec3; to: Vec3 } | undefined {
  const rows = planes.map(({ a, b }): Row => {
    const both = new Float64Array(6)
    // The corner farthest out along the plane's normal: −a·x ≤ −b.
    for (let k = 0; k < 3; k++) both[a[k] < 0 ? 3 + k : k] = a[k]
    return { a: both, b }
  })
  const inside = planes.every(({ a, b }) => a[0] * point[0] + a[1] * point[1] + a[2] * point[2] >= b - 1e-7)
  if (!inside) return undefined
  const low = Float64Array.of(...point.map((x) => x - 2000), ...point)
  const high = Float64Array.of(...point, ...point.map((x) => x + 2000))
  const { x, infeasible } = solveProgram(Float64Array.of(-1, -1, -1, 1, 1, 1), rows, low, high)
  if (infeasible) return undefined
  const worst = Math.min(0, ...rows.map(({ a, b }) => a.reduce((sum, v, j) => sum + v * x[j], -b)))
  const grain = 1e-7 - worst
  const from = [0, 1, 2].map((k) => Math.min(point[k], x[k] + grain)) as unknown as Vec3
  const to = [0, 1, 2].map((k) => Math.max(point[k], x[3 + k] - grain)) as unknown as Vec3
  return { from, to }
}

/** Radius of a ball about a point that lies in the solid for sure: the way to the nearest face plane of a convex piece. */
function roomIn(solid: Solid, point: Vec3): number {
  let room = 0
  for (const form of solid.forms) {
    if (form.form === 'halfSpace') room = Math.max(room, -dot(form.normal, sub(point, form.point)))
    if (form.form !== 'convex' || form.body.kind !== 'polytope') continue
    const { planes } = form.body
    let least = Infinity
    for (let i = 0; i < planes.length; i += 4)
      least = Math.min(
        least,
        planes[i + 3] - planes[i] * point[0] - planes[i + 1] * point[1] - planes[i + 2] * point[2],
      )
    room = Math.max(room, least)
  }
  return Math.max(0, room - 1e-9)
}
