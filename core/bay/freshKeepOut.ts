import type { Bounds } from '../shape/form.ts'
import type { Shape, ShapeKind } from '../shape/registry.ts'
import { add, type Vec3 } from '../shape/vec.ts'
import type { Bay, Candidate, KeepOut, Opening, Port } from './schema.ts'
import { mirrorId } from './sense.ts'
import { idOf, nameLike } from './unlike.ts'

/** Kinds that can be begun with numbers alone; a mesh begins with its file. */
export type TypedKind = Exclude<ShapeKind, 'mesh'>

/** How far above the candidate a new thing begins, so that it is seen beside it and not inside, mm. */
const above = 150

/**
 * Where something new begins: above the candidate that is looked at, or in the middle of what there is, in lengths that are
 * round for people.
 * @param bounds of all that is bounded, mm
 */
export function placeForNew(bay: Bay, candidate: Candidate | null, bounds: Bounds | null): Vec3 {
  const grid = bay.units === 'mm' ? 10 : 25.4
  const middle: Vec3 = candidate
    ? add(candidate.at, [0, 0, candidate.core.height / 2 + above])
    : bounds && bay.keepOuts.length > 0
      ? middleOf(bounds)
      : [0, 0, 0]
  const [x, y, z] = middle.map((mm) => tidy(Math.round(mm / grid) * grid))
  return [x, y, z]
}

const middleOf = ({ min, max }: Bounds): Vec3 => [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2]

/** Free of the dust of binary multiplication, and of −0. */
const tidy = (mm: number): number => Math.round(mm * 1e9) / 1e9 + 0

/**
 * A keep-out to begin from: a valid solid at once, in sizes that are round in the bay's units, its role's clearance.
 * @param shape its shape, or the kind of one that begins at `at`
 * @param called name and id follow it, numbered where it is taken
 */
export function freshKeepOut(bay: Bay, shape: Shape, called: string): KeepOut {
  const taken = bay.keepOuts.flatMap(({ id }) => [id, mirrorId(id)])
  const name = nameLike(
    called,
    bay.keepOuts.map((keepOut) => keepOut.name),
  )
  return { id: idOf(name, taken), name, role: 'body', shape }
}

/** A shape of a kind around a point, mm. */
export function freshShape(kind: TypedKind, units: Bay['units'], at: Vec3): Shape {
  const size = (mm: number, inches: number) => (units === 'mm' ? mm : (inches * 254) / 10)
  const from = (x: number, y: number, z: number): [number, number, number] => {
    const [a, b, c] = add(at, [x, y, z])
    return [tidy(a), tidy(b), tidy(c)]
  }
  const [long, half, thin] = [size(200, 8), size(50, 2), size(25, 1)]
  switch (kind) {
    case 'box':
      return { kind, at: from(0, 0, 0), size: [2 * half, long, 2 * half] }
    case 'cylinder':
      return { kind, from: from(0, -half, 0), to: from(0, half, 0), radius: thin }
    case 'hull':
      return {
        kind,
        points: [-half, half].flatMap((x) => [-half, half].flatMap((y) => [-half, half].map((z) => from(x, y, z)))),
      }
    case 'halfSpace':
      return { kind, point: from(0, 0, -2 * long), normal: [0, 0, 1] }
    case 'sweep':
      return {
        kind,
        section: [
          [-thin, -half],
          [thin, -half],
          [thin, half],
          [-thin, half],
        ],
        path: [from(0, -long, 0), from(0, long, 0)],
        up: [0, 0, 1],
      }
    case 'tube':
      return {
        kind,
        path: [from(0, -long, 0), from(0, 0, 0), from(long, 0, 0)],
        radius: thin / 2,
        bendRadius: half,
      }
  }
}

/** The same keep-out again, under a name and id of its own. */
export function copyOf(bay: Bay, keepOut: KeepOut): KeepOut {
  const { id, name } = freshKeepOut(bay, keepOut.shape, keepOut.name)
  return { ...keepOut, id, name }
}

/**
 * A bay without one keep-out: ports and fixings that sat on it, or on its mirror image, sit on nothing named then.
 * @returns the bay, and the names of what sat on it
 */
export function withoutKeepOut(bay: Bay, id: string): { readonly bay: Bay; readonly sat: readonly string[] } {
  const freed = freedFrom(bay, [id, mirrorId(id)])
  return { ...freed, bay: { ...freed.bay, keepOuts: bay.keepOuts.filter((keepOut) => keepOut.id !== id) } }
}

/** A bay in which a keep-out is on both sides, or on one only. */
export function withMirror(bay: Bay, id: string, both: boolean): Bay {
  const { bay: freed } = both ? { bay } : freedFrom(bay, [mirrorId(id)])
  const changed = ({ mirror: _, ...rest }: KeepOut): KeepOut => (both ? { ...rest, mirror: true } : rest)
  return { ...freed, keepOuts: bay.keepOuts.map((keepOut) => (keepOut.id === id ? changed(keepOut) : keepOut)) }
}

function freedFrom(bay: Bay, ids: readonly string[]): { readonly bay: Bay; readonly sat: readonly string[] } {
  const sits = ({ sitsOn }: { readonly sitsOn?: string }) => sitsOn !== undefined && ids.includes(sitsOn)
  const free = <T extends { readonly sitsOn?: string }>(item: T): T => {
    if (!sits(item)) return item
    const { sitsOn: _, ...rest } = item
    return rest as T
  }
  const sat = [...(bay.ports ?? []), ...(bay.fixings ?? [])].filter(sits).map(({ name }) => name)
  if (sat.length === 0) return { bay, sat }
  return {
    bay: {
      ...bay,
      ...(bay.ports && { ports: bay.ports.map(free) }),
      ...(bay.fixings && { fixings: bay.fixings.map(free) }),
    },
    sat,
  }
}

/** A port to begin from: to the left, of a common charge pipe's size. */
export function freshPort(bay: Bay, called: string, at: Vec3): Port {
  const ports = bay.ports ?? []
  const name = nameLike(
    called,
    ports.map((port) => port.name),
  )
  const id = idOf(
    name,
    ports.map((port) => port.id),
  )
  // 2 1/4 in and 57 mm are the same stock. Common practice, no source.
  return { id, name, at: [...at], direction: [0, -1, 0], outsideDiameter: bay.units === 'mm' ? 57 : 57.15 }
}

/** An opening to begin from: a rectangle across the car at a place. */
export function freshOpening(bay: Bay, called: string, [x, y, z]: Vec3): Opening {
  const openings = bay.openings ?? []
  const name = nameLike(
    called,
    openings.map((opening) => opening.name),
  )
  const [wide, high] = bay.units === 'mm' ? [200, 60] : [203.2, 63.5]
  return {
    id: idOf(
      name,
      openings.map((opening) => opening.id),
    ),
    name,
    outline: [
      [y - wide, z - high],
      [y + wide, z - high],
      [y + wide, z + high],
      [y - wide, z + high],
    ],
    x,
  }
}

/** Pipes that begin or end at a port of the bay, by name with their candidate: such a port cannot go. */
export const pipesAt = (bay: Bay, port: string): readonly string[] =>
  bay.candidates.flatMap(({ name, pipes = [] }) =>
    pipes.filter(({ from, to }) => from === port || to === port).map((pipe) => `${name}, ${pipe.name}`),
  )
