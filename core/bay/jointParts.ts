import { trimCentreline } from '../shape/centreline.ts'
import type { Form, Piece, Polytope, Solid, StraightPiece } from '../shape/form.ts'
import { polytopeOf } from '../shape/polytope.ts'
import { solidFrom } from '../shape/solid.ts'
import { add, along, cross, scale } from '../shape/vec.ts'
import type { Pose, Vec3 } from '../shape/vec.ts'
import { exemptDiameters } from './defaults.ts'
import { strayOf } from './joints.ts'
import type { ClampPlace, ResolvedJoint } from './joints.ts'
import type { Exemption, Part, RunPart } from './part.ts'
import type { PipeEnd } from './pipeEnds.ts'
import type { Pipe } from './schema.ts'
import type { Workshop } from './workshop.ts'

/** What all parts of one pipe share. */
export interface RunAsks {
  readonly clearance: number
  readonly clearanceAssumed: boolean
  readonly movement: number
}

/**
 * Coupler and clamps at one end of a pipe, bay frame, mm.
 *
 * Each solid holds the hose or clamp with something to spare: a hose that reduces is as thick throughout as at its wider
 * end, a hump is as thick throughout its length; a clamp without a roll is a ring as high as its screw, since that may
 * stand anywhere. Tolerance: the coupler's own, how far the pipe may lie beside the hose's axis in it, and the movement.
 * They are not held against their pipe, the stub they sit on, or each other; nor against what the port belongs to up to
 * 1.5 outside diameters of the pipe beyond the port.
 * @param next the pipe's next point after its end, null where it is not routed
 */
export function jointParts(
  pipe: Pipe,
  name: 'from' | 'to',
  end: PipeEnd,
  next: Vec3 | null,
  asks: RunAsks,
  pose: Pose,
  workshop: Workshop,
): Part[] {
  const { joint } = end
  if (!joint) return []
  const coupler = `coupler-${pipe.id}-${name}`
  const clampName = ({ on }: ClampPlace) => `clamp-${pipe.id}-${name}-${on}`
  const fixed = [`pipe-${pipe.id}`, coupler, ...joint.clamps.map(clampName), ...end.joined.filter(isStub)]
  const owners = end.joined.filter((other) => !isStub(other))
  const free = joint.insertion.port + exemptDiameters * pipe.outsideDiameter
  const part = (own: string, kind: 'coupler' | 'clamp', solid: Solid, near: Exemption | null): Part => ({
    name: own,
    kind,
    solid,
    tolerance: (joint.coupler.tolerance ?? 0) + strayOf(joint, next) + asks.movement,
    pose,
    run: {
      ...asks,
      id: pipe.id,
      carried: end.joined.some(isStub),
      exemptions: exemptionsOf(own, fixed, owners, near),
    },
  })
  const hose = (from: number) =>
    workshop.make('hose', [joint.axis, joint.length, joint.hoseDiameter, humpOf(joint), from], () =>
      hoseSolid(joint, from),
    )
  const near = { lengths: [Math.min(free, joint.length)], rest: free < joint.length ? hose(free) : null }
  return [
    part(coupler, 'coupler', hose(0), near),
    ...joint.clamps.map((place) => {
      const { band } = place.clamp
      const solid = workshop.make('clamp', [{ ...place, clamp: null }, band, place.clamp.height], () =>
        solidFrom(clampForms(place)),
      )
      const within = place.along + band / 2 <= free
      return part(clampName(place), 'clamp', solid, within ? { lengths: [band], rest: null } : null)
    }),
  ]
}

const isStub = (name: string): boolean => name.startsWith('stub-')

const fixedTogether: Exemption = { lengths: [], rest: null }

function exemptionsOf(
  own: string,
  fixed: readonly string[],
  owners: readonly string[],
  near: Exemption | null,
): RunPart['exemptions'] {
  const exemptions = new Map<string, Exemption>()
  for (const other of fixed) if (other !== own) exemptions.set(other, fixedTogether)
  if (near) for (const owner of owners) exemptions.set(owner, near)
  return exemptions
}

const humpOf = ({ coupler }: ResolvedJoint) => (coupler.form === 'hump' ? coupler.hump : null)

/** The hose from a length along its axis on, mm; something must be left. */
function hoseSolid(joint: ResolvedJoint, from: number): Solid {
  const { axis, length, hoseDiameter } = joint
  const forms = tubeForms(trimCentreline(axis, from, length), hoseDiameter / 2)
  const hump = humpOf(joint)
  if (hump) {
    const start = Math.max(from, (length - hump.length) / 2)
    const raised = trimCentreline(axis, start, (length + hump.length) / 2)
    if (raised.length > 0) forms.push(...tubeForms(raised, Math.max(hump.diameter, hoseDiameter) / 2))
  }
  return solidFrom(forms)
}

/** An arc is no tighter than its hose in stock; one stretched over a tube that is too thick for it may be, and bulges on its straights alone. */
function tubeForms(pieces: readonly Piece[], radius: number): Form[] {
  const [only] = pieces
  if (pieces.length === 1 && only.kind === 'straight') return [straightForm(only, radius)]
  const tightest = Math.min(...pieces.flatMap((piece) => (piece.kind === 'arc' ? piece.radius : [])))
  if (radius <= tightest) return [{ form: 'round', centreline: pieces, radius }]
  const bulges = pieces.flatMap((piece) => (piece.kind === 'straight' ? [straightForm(piece, radius)] : []))
  return [{ form: 'round', centreline: pieces, radius: tightest }, ...bulges]
}

const straightForm = ({ from, to }: StraightPiece, radius: number): Form => ({
  form: 'convex',
  body: { kind: 'cylinder', from, to, radius },
})

/** How thick a band is taken to be where the screw is elsewhere, mm, and how long its housing along the hose's girth, in bands. Common practice, no source. */
const bandThickness = 1.5
const housingBands = 2.5

function clampForms(place: ClampPlace): Form[] {
  const { clamp, screw, hoseDiameter } = place
  const hose = hoseDiameter / 2
  if (!screw) return [ring(place, hose + clamp.height)]
  return [
    ring(place, hose + Math.min(bandThickness, clamp.height)),
    { form: 'convex', body: housing(place, screw, hose) },
  ]
}

const ring = ({ at, axis, clamp: { band } }: ClampPlace, radius: number): Form =>
  straightForm({ kind: 'straight', from: along(at, axis, -band / 2), to: along(at, axis, band / 2) }, radius)

/** Screw and housing as a prism along the axis: flat sides, its outer face bent round the hose at the height they stand off. */
function housing({ at, axis, clamp }: ClampPlace, screw: Vec3, hose: number): Polytope {
  const outer = hose + clamp.height
  const halfWidth = Math.min((housingBands * clamp.band) / 2, 0.7 * outer)
  const halfAngle = Math.asin(halfWidth / outer)
  const sideways = cross(axis, screw)
  const onOutside = [-1, -0.5, 0, 0.5, 1].map((share) => {
    const angle = share * halfAngle
    return add(scale(screw, outer * Math.cos(angle)), scale(sideways, outer * Math.sin(angle)))
  })
  const foot = (side: 1 | -1) => add(scale(screw, hose / 2), scale(sideways, side * halfWidth))
  return prism([foot(-1), ...onOutside, foot(1)], at, axis, clamp.band / 2)
}

/** A convex outline, counter-clockwise about the axis, from −half to +half along it. */
function prism(outline: readonly Vec3[], at: Vec3, axis: Vec3, half: number): Polytope {
  const count = outline.length
  const vertices = new Float64Array(6 * count)
  for (const [i, corner] of outline.entries()) {
    vertices.set(along(add(at, corner), axis, -half), 3 * i)
    vertices.set(along(add(at, corner), axis, half), 3 * (count + i))
  }
  const corners = outline.map((_, i) => i)
  const faces = [
    corners.toReversed(),
    corners.map((i) => count + i),
    ...corners.map((i) => [i, (i + 1) % count, count + ((i + 1) % count), count + i]),
  ]
  return polytopeOf(vertices, faces)
}
