import { keepOutSolids } from '../../bay/keepOuts.ts'
import type { Meshes } from '../../bay/part.ts'
import { candidateParts } from '../../bay/parts.ts'
import type { Bay, Candidate, Role } from '../../bay/schema.ts'
import { Workshop } from '../../bay/workshop.ts'
import { bad, good, type Outcome } from '../../fault.ts'
import type { Solid } from '../../shape/form.ts'
import { cross, dot, length, type Vec3 } from '../../shape/vec.ts'
import { Blockers, runsOf } from './hidden.ts'
import type { Loops } from './region.ts'
import { defaultSag, type SolidSight, solidSight } from './solidSight.ts'
import { emptyFrame, type Flat, type Frame, joinedFrame, type AnyView } from './view.ts'

/** Something that is drawn: part of the candidate or keep-out. */
export interface DrawnThing {
  /** Part name, or keep-out id with `-mirror` for an image. */
  readonly name: string
  readonly role: Role | 'part'
  readonly solid: Solid
  /** It hides nothing and is drawn as what lies beside: bodies that come off, or move. */
  readonly beside: boolean
}

/** A line of the drawing, mm true to scale, in points joined by straight pieces. */
export interface DrawnLine {
  readonly name: string
  readonly role: DrawnThing['role']
  /** 'beside': of a thing that hides nothing, drawn through. */
  readonly look: 'seen' | 'hidden' | 'beside'
  readonly points: readonly Flat[]
}

export interface DrawnOutline {
  readonly name: string
  readonly role: DrawnThing['role']
  readonly beside: boolean
  /** The region that it covers, hidden or not. */
  readonly loops: Loops
}

/** Where a half-space's plane is seen edge-on: a point of it, along it, and the unit way out of the solid. */
export interface DrawnGround {
  readonly name: string
  readonly role: DrawnThing['role']
  readonly at: Flat
  readonly along: Flat
  readonly out: Flat
}

export interface Drawing {
  readonly view: AnyView
  readonly lines: readonly DrawnLine[]
  readonly outlines: readonly DrawnOutline[]
  readonly grounds: readonly DrawnGround[]
  /** Around all lines. */
  readonly frame: Frame
  /** How far a line may lie off the thing that it shows, mm: chords of round things, rounded places. */
  readonly error: number
}

/**
 * What a candidate and its bay look like from one side, in lines true to scale: edges and contours, each as far as it is
 * seen and as far as it is hidden, and the region that each thing covers.
 *
 * Edges and contours of polytopes and straight tubes are exact; circles and bends are chords within `error`. Of a mesh its
 * outline is drawn, exact for its triangles. What is hidden is found on the solids themselves, never on pixels.
 */
export function drawing(things: readonly DrawnThing[], view: AnyView, sag = defaultSag): Drawing {
  const sights = things.map((thing) => ({ thing, sight: solidSight(thing.solid, view, sag) }))
  const standing = sights.filter(({ thing }) => !thing.beside)
  const blockers = new Blockers(
    standing.flatMap(({ sight }) => sight.blocks),
    standing.flatMap(({ sight }) => sight.meshes),
  )
  const lines = sights.flatMap(({ thing, sight }) => linesOf(thing, sight, blockers))
  return {
    view,
    lines: lines.filter(isNew()),
    outlines: sights.flatMap(({ thing: { name, role, beside }, sight: { outline } }) =>
      outline.length > 0 ? [{ name, role, beside, loops: outline }] : [],
    ),
    grounds: sights.flatMap(({ thing, sight }) => groundsOf(thing, sight, view)),
    frame: sights.reduce((all, { sight }) => joinedFrame(all, sight.frame), emptyFrame),
    error: sag + 1e-4,
  }
}

function linesOf({ name, role, beside }: DrawnThing, sight: SolidSight, blockers: Blockers): DrawnLine[] {
  const flat = (points: readonly (readonly number[])[]): Flat[] => points.map(([u, v]) => [u, v])
  if (beside) return sight.lines.map((line) => ({ name, role, look: 'beside', points: flat(line) }))
  const own = new Set(sight.meshes)
  return sight.lines.flatMap((line) =>
    runsOf(line, blockers, own).map(
      ({ hidden, points }): DrawnLine => ({
        name,
        role,
        look: hidden ? 'hidden' : 'seen',
        points: flat(points),
      }),
    ),
  )
}

/** The same line of two parts that meet is drawn once. */
function isNew(): (line: DrawnLine) => boolean {
  const drawn = new Set<string>()
  return ({ look, points }) => {
    const told = points.map(([u, v]) => `${u.toFixed(3)},${v.toFixed(3)}`)
    const keys = [told.join(' '), [...told].reverse().join(' ')]
    if (keys.some((key) => drawn.has(`${look} ${key}`))) return false
    drawn.add(`${look} ${keys[0]}`)
    return true
  }
}

function groundsOf({ name, role }: DrawnThing, { grounds }: SolidSight, view: AnyView): DrawnGround[] {
  return grounds.flatMap(({ point, normal }) => {
    if (Math.abs(dot(normal, view.eye)) > 1e-6) return []
    const flat = (v: Vec3): Flat => [dot(v, view.right), dot(v, view.up)]
    const along = cross(normal, view.eye)
    return length(along) === 0 ? [] : [{ name, role, at: flat(point), along: flat(along), out: flat(normal) }]
  })
}

/**
 * What is drawn of a bay with one of its candidates: all parts, and all keep-outs that are not left out for a look.
 * @param candidate null: keep-outs alone
 * @param workshop keeps solids by content between calls
 * Faults: as `keepOutSolids` and `candidateParts`.
 */
export function drawnThings(
  bay: Bay,
  candidate: Candidate | null,
  meshes: Meshes,
  workshop: Workshop = new Workshop(),
): Outcome<readonly DrawnThing[]> {
  const keepOuts = keepOutSolids(bay, meshes, workshop)
  const parts = candidate ? candidateParts(bay, candidate, workshop) : good({ parts: [] })
  if (!keepOuts.ok || !parts.ok) return bad(...(keepOuts.ok ? [] : keepOuts.faults), ...(parts.ok ? [] : parts.faults))
  return good([
    ...parts.value.parts.map(({ name, solid }): DrawnThing => ({ name, role: 'part', solid, beside: false })),
    ...keepOuts.value.map(
      ({ id, solid, keepOut: { role, fitting } }): DrawnThing => ({
        name: id,
        role,
        solid,
        beside: fitting === 'comes-off' || role === 'moving',
      }),
    ),
  ])
}
