import { type MeshTree, meshTree } from '../../clearance/meshTree.ts'
import { type ConvexSet, setOf } from '../../clearance/support.ts'
import { spanStride, TubeSpans } from '../../clearance/tubeSpans.ts'
import { formBounds } from '../../clearance/formBounds.ts'
import type { Cylinder, Form, HalfSpaceForm, MeshForm, Polytope, RoundForm, Solid } from '../../shape/form.ts'

/**
 * One form of an obstacle, ready to be asked for its distance to points and segments again and again. Bay frame, mm.
 * `box`: least x, y, z, greatest x, y, z. `slack`: what rounding can do to a distance.
 */
export type Body = PolytopeBody | CylinderBody | HalfSpaceBody | MeshBody | TubeBody

interface AnyBody {
  readonly box: Float64Array
  readonly slack: number
}
export interface PolytopeBody extends AnyBody {
  readonly kind: 'polytope'
  readonly set: ConvexSet
  readonly planes: Float64Array
}
export interface CylinderBody extends AnyBody {
  readonly kind: 'cylinder'
  readonly set: ConvexSet
  readonly cylinder: Cylinder
  /** Unit, from `cylinder.from` to `to`. */
  readonly axis: readonly [number, number, number]
  readonly length: number
}
export interface HalfSpaceBody extends AnyBody {
  readonly kind: 'halfSpace'
  readonly form: HalfSpaceForm
}
export interface MeshBody extends AnyBody {
  readonly kind: 'mesh'
  readonly form: MeshForm
  readonly tree: MeshTree
}
/** A round sweep in short spans: `spans` are the numbers of those that together are the tube. */
export interface TubeBody extends AnyBody {
  readonly kind: 'tube'
  readonly tube: TubeSpans
  readonly spans: readonly number[]
}

const epsilon = 2 ** -52
/** An arc is cut until its line strays less than this from the spans' segments, mm. */
const finest = 0.05

/** The bodies of a solid, made once for each solid. */
export function bodiesOf(solid: Solid): readonly Body[] {
  let bodies = kept.get(solid)
  if (!bodies) {
    bodies = solid.forms.map(bodyOf)
    kept.set(solid, bodies)
  }
  return bodies
}

const kept = new WeakMap<Solid, readonly Body[]>()

function bodyOf(form: Form): Body {
  const { min, max } = formBounds(form)
  const box = Float64Array.from([...min, ...max])
  switch (form.form) {
    case 'convex':
      return convexBody(form.body, box)
    case 'halfSpace':
      return { kind: 'halfSpace', form, box, slack: 16 * epsilon * Math.max(1, ...form.point.map(Math.abs)) }
    case 'mesh':
      return meshBody(form, box)
    case 'round':
      return tubeBody(form, box)
  }
}

function convexBody(body: Polytope | Cylinder, box: Float64Array): Body {
  const set = setOf(body)
  const slack = 32 * epsilon * set.reach
  if (body.kind === 'polytope') return { kind: 'polytope', set, planes: body.planes, box, slack }
  const { from, to } = body
  const length = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2])
  const axis = [(to[0] - from[0]) / length, (to[1] - from[1]) / length, (to[2] - from[2]) / length] as const
  return { kind: 'cylinder', set, cylinder: body, axis, length, box, slack }
}

function meshBody(form: MeshForm, box: Float64Array): MeshBody {
  const tree = meshTree(form.mesh)
  const carried = Math.max(...form.pose.at.map(Math.abs), ...tree.centre.map(Math.abs))
  return { kind: 'mesh', form, tree, box, slack: 64 * epsilon * (tree.reach + carried) }
}

function tubeBody(form: RoundForm, box: Float64Array): TubeBody {
  const tube = new TubeSpans(form)
  const spans: number[] = []
  const add = (span: number): void => {
    if (tube.isStraight(span) || tube.spans[spanStride * span + 7] < finest) {
      spans.push(span)
      return
    }
    const half = tube.halve(span)
    add(half)
    add(half + 1)
  }
  for (let span = 0; span < tube.pieces; span++) add(span)
  return { kind: 'tube', tube, spans, box, slack: tube.rounding }
}
