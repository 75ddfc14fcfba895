import { keepOutSolids } from '../../core/bay/keepOuts.ts'
import type { Meshes } from '../../core/bay/part.ts'
import { candidateParts } from '../../core/bay/parts.ts'
import type { Bay } from '../../core/bay/schema.ts'
import type { Workshop } from '../../core/bay/workshop.ts'
import type { Fault, Outcome } from '../../core/fault.ts'
import { good } from '../../core/fault.ts'
import { unionBounds } from '../../core/shape/bounds.ts'
import { displayOf } from '../../core/shape/display.ts'
import type { Bounds, Solid } from '../../core/shape/form.ts'
import type { Vec3 } from '../../core/shape/vec.ts'
import { candidateOf } from '../../core/verdict/ledger.ts'
import { lightBudget } from './lightBudget.ts'
import { lightSurface } from './lightSurface.ts'
import type { DrawnSolid, Drawing } from './protocol.ts'
import { simplePieces } from './simplePieces.ts'

interface Named {
  readonly key: string
  readonly side: DrawnSolid['side']
  readonly solid: Solid
}

/**
 * Turns the solids of a bay into drawings, and remembers what was handed out: a solid that is the same object as before
 * (see `Workshop`) is not made or sent again.
 */
export class Draughtsman {
  private readonly meshes: Meshes
  private readonly workshop: Workshop
  private readonly sent = new Map<string, { readonly solid: Solid; readonly within: string }>()
  /** Triangles of each keep-out. */
  private readonly counts = new Map<string, number>()
  private origin: Vec3 | null = null

  constructor(meshes: Meshes, workshop: Workshop) {
    this.meshes = meshes
    this.workshop = workshop
  }

  draw(bay: Bay, candidateId: string | undefined): Drawing {
    const keepOuts = keepOutSolids(bay, this.meshes, this.workshop)
    const parts = this.partsOf(bay, candidateId)
    const faults: Fault[] = [...(keepOuts.ok ? [] : keepOuts.faults), ...(parts.ok ? [] : parts.faults)]
    const around = keepOuts.ok ? keepOuts.value.map(({ id, solid }) => named(id, 'keepOut', solid)) : []
    const own = parts.ok ? parts.value : []
    const fixed = boundsOfAll(around) ?? boundsOfAll(own)
    const bounds = boundsOfAll([...around, ...own])
    this.origin ??= middleOf(bounds)
    const solids = lightened(
      [...around, ...own].flatMap((thing) => this.changed(thing, fixed)),
      this.counts,
    )
    return {
      origin: [...this.origin],
      bounds,
      keepOuts: keepOuts.ok ? around.map(({ key }) => key) : this.keysOf('keepOut'),
      parts: parts.ok ? own.map(({ key }) => key) : this.keysOf('part'),
      solids,
      faults: faults.length > 0 ? { ok: false, faults } : good(null),
    }
  }

  /** A pipe of a bay that is only looked at; nothing of it is remembered. */
  sketch(bay: Bay, candidateId: string, pipe: string): DrawnSolid | null {
    const candidate = candidateOf(bay, candidateId)
    const made = candidate.ok ? candidateParts(bay, candidate.value, this.workshop) : candidate
    const part = made.ok ? made.value.parts.find(({ name }) => name === `pipe-${pipe}`) : undefined
    return part
      ? lightened([drawn(named(part.name, 'part', part.solid), this.origin ?? [0, 0, 0], smallBounds)], this.counts)[0]
      : null
  }

  /** Core, tanks, pipes and mounts of a candidate that is only looked at; nothing of it is remembered. */
  outlines(bay: Bay, candidateId: string): DrawnSolid[] {
    const parts = this.partsOf(bay, candidateId)
    if (!parts.ok) return []
    // Clamps and couplers would only be a tangle of lines.
    const bulk = parts.value.filter(({ key }) => !/^(clamp|coupler)-/.test(key))
    return bulk.map((part) => drawn(part, this.origin ?? [0, 0, 0], smallBounds))
  }

  private partsOf(bay: Bay, candidateId: string | undefined): Outcome<Named[]> {
    // A bay without a candidate is a place to look at all the same.
    if (bay.candidates.length === 0) return good([])
    const candidate = candidateOf(bay, candidateId)
    if (!candidate.ok) return candidate
    const made = candidateParts(bay, candidate.value, this.workshop)
    return made.ok ? good(made.value.parts.map(({ name, solid }) => named(name, 'part', solid))) : made
  }

  private keysOf(side: DrawnSolid['side']): string[] {
    return [...this.sent.keys()].filter((key) => key.startsWith(`${side}/`)).map((key) => key.slice(side.length + 1))
  }

  private changed(thing: Named, fixed: Bounds | null): DrawnSolid[] {
    const { key, side, solid } = thing
    // Only the patch of a half-space depends on what else is there.
    const within = isBounded(solid.bounds) ? '' : JSON.stringify(fixed)
    const before = this.sent.get(`${side}/${key}`)
    if (before?.solid === solid && before.within === within) return []
    this.sent.set(`${side}/${key}`, { solid, within })
    const made = drawn(thing, this.origin ?? [0, 0, 0], fixed ?? smallBounds)
    if (side === 'keepOut') this.counts.set(key, made.surface.triangles.length / 3)
    return [made]
  }
}

/** With lighter copies of keep-outs, as heavy as the whole bay allows. */
function lightened(solids: readonly DrawnSolid[], counts: ReadonlyMap<string, number>): DrawnSolid[] {
  const all = [...counts.values()].reduce((sum, n) => sum + n, 0)
  return solids.map((solid) => {
    const budget = solid.side === 'keepOut' ? lightBudget(solid.surface.triangles.length / 3, all) : null
    return { ...solid, light: lightSurface(solid.surface, budget) }
  })
}

const named = (key: string, side: DrawnSolid['side'], solid: Solid): Named => ({ key, side, solid })

/** Where nothing in the bay is bounded. */
const smallBounds: Bounds = { min: [-500, -500, -500], max: [500, 500, 500] }

function drawn({ key, side, solid }: Named, origin: Vec3, within: Bounds): DrawnSolid {
  const { positions, normals, triangles, edges } = displayOf(solid, { within })
  shift(positions, origin)
  shift(edges, origin)
  const surface = { positions, normals, triangles }
  return {
    key,
    side,
    surface,
    light: null,
    edges,
    pieces: simplePieces(solid, origin),
    mesh: solid.forms.some(({ form }) => form === 'mesh'),
    closed: !solid.open && isBounded(solid.bounds),
    bounds: solid.bounds,
  }
}

function shift(points: Float32Array, origin: Vec3): void {
  for (let i = 0; i < points.length; i++) points[i] -= origin[i % 3]
}

const isBounded = ({ min, max }: Bounds): boolean => [...min, ...max].every(Number.isFinite)

function boundsOfAll(things: readonly Named[]): Bounds | null {
  const bounded = things.map(({ solid }) => solid.bounds).filter(isBounded)
  return bounded.length > 0 ? unionBounds(bounded) : null
}

/** Whole millimetres, so that shifted coordinates lose nothing that was there before. */
const middleOf = (bounds: Bounds | null): Vec3 =>
  bounds ? ([0, 1, 2].map((k) => Math.round((bounds.min[k] + bounds.max[k]) / 2)) as unknown as Vec3) : [0, 0, 0]

/** Buffers of drawn solids that can be handed over instead of copied. */
export function transferables(solids: readonly DrawnSolid[]): ArrayBuffer[] {
  const surfaces = solids.flatMap(({ surface, light }) => (light ? [surface, light] : [surface]))
  const arrays = [
    ...surfaces.flatMap(({ positions, normals, triangles }) => [positions, normals, triangles]),
    ...solids.map(({ edges }) => edges),
  ]
  return [...new Set(arrays.map(({ buffer }) => buffer as ArrayBuffer))]
}
