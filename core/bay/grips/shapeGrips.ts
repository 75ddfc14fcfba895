import type { Bounds } from '../../shape/form.ts'
import type { Shape } from '../../shape/registry.ts'
import { add, along, dot, length, scale, squareTo, sub, unit, type Vec3 } from '../../shape/vec.ts'
import { faceGrips, moveGrips, reachOf, turnGrips, type TurnedBox } from './boxGrips.ts'
import { type Grip, leastSize, type Place, type Slide, tidy, tidyPoint } from './grip.ts'

type ShapeOf<K extends Shape['kind']> = Extract<Shape, { kind: K }>

/** More points than this would cover the drawing, and each other. */
const mostPoints = 80

/**
 * What of a keep-out's shape can be taken hold of. A solid of very many points (a hull, a path) is only moved.
 * @param meshBounds of a mesh's solid as it is drawn, bay frame, mm: where it is taken hold of; its own origin where unknown
 * @returns bay frame, mm and degrees; ids: 'place', 'along-x', 'turn-y', 'face-rear', 'point-0', 'from', 'to', 'radius',
 *   'normal' and their like
 */
export function shapeGrips(shape: Shape, meshBounds: Bounds | null = null): Grip<Shape>[] {
  switch (shape.kind) {
    case 'box':
      return boxGrips(shape)
    case 'cylinder':
      return [...wholeGrips(shape, [shape.from, shape.to], shape.radius), ...endGrips(shape), radiusGrip(shape)]
    case 'hull':
      return [...wholeGrips(shape, shape.points, 0), ...pointGrips(shape.points, (points) => ({ ...shape, points }))]
    case 'halfSpace':
      return [normalGrip(shape)]
    case 'sweep':
      return [...wholeGrips(shape, shape.path, halfSection(shape)), ...sweepPoints(shape)]
    case 'tube':
      return [...wholeGrips(shape, shape.path, shape.radius), ...pointGrips(shape.path, (path) => ({ ...shape, path }))]
    case 'mesh':
      return meshGrips(shape, meshBounds)
  }
}

const halfSection = ({ section }: ShapeOf<'sweep'>): number => Math.max(...section.map(([u, v]) => Math.hypot(u, v)))

/** Shapes that are told by points alone. */
type Pointed = ShapeOf<'cylinder' | 'hull' | 'sweep' | 'tube'>

function moved(shape: Pointed, by: Vec3): Shape {
  const to = (point: Vec3) => tidyPoint(add(point, by))
  if (shape.kind === 'cylinder') return { ...shape, from: to(shape.from), to: to(shape.to) }
  if (shape.kind === 'hull') return { ...shape, points: shape.points.map(to) }
  return { ...shape, path: shape.path.map(to) }
}

const middleOf = ({ min, max }: Bounds): Vec3 => tidyPoint(scale(add(min, max), 0.5))
const halfOf = ({ min, max }: Bounds): Vec3 => scale(sub(max, min), 0.5)

/**
 * A solid about some points is moved by the middle of them.
 * @param thick how far it goes beyond them at most, mm
 */
function wholeGrips(shape: Pointed, points: readonly Vec3[], thick: number): Grip<Shape>[] {
  const [first] = points
  const bounds = points.reduce(
    ({ min, max }, point) => ({
      min: min.map((x, k) => Math.min(x, point[k])) as unknown as Vec3,
      max: max.map((x, k) => Math.max(x, point[k])) as unknown as Vec3,
    }),
    { min: first, max: first },
  )
  const middle = middleOf(bounds)
  return moveGrips(middle, middle, add(halfOf(bounds), [thick, thick, thick]), (to) => moved(shape, sub(to, middle)))
}

function boxGrips(shape: ShapeOf<'box'>): Grip<Shape>[] {
  const box: TurnedBox = { at: shape.at, size: shape.size, turn: shape.turn ?? [0, 0, 0] }
  return [
    ...moveGrips<Shape>(box.at, box.at, reachOf(box), (at) => ({ ...shape, at: tidyPoint(at) })),
    ...turnGrips<Shape>(box, (turn) => ({ ...shape, turn: tidyPoint(turn) })),
    ...faceGrips<Shape>(box, (at, [x, y, z]) => ({ ...shape, at: tidyPoint(at), size: [x, y, z] })),
  ]
}

/** A mesh is set by its own origin and turns about it, but is taken hold of where it is seen. */
function meshGrips(shape: ShapeOf<'mesh'>, bounds: Bounds | null): Grip<Shape>[] {
  const at = shape.at ?? [0, 0, 0]
  const [middle, half] = bounds ? [middleOf(bounds), halfOf(bounds)] : [at, [50, 50, 50] as Vec3]
  const turn = shape.turn ?? [0, 0, 0]
  const seen = turnGrips<Shape>({ at: middle, size: scale(half, 2), turn: [0, 0, 0] }, () => shape)
  const own = turnGrips<Shape>({ at, size: scale(half, 2), turn }, (to) => ({ ...shape, turn: tidyPoint(to) }))
  return [
    ...moveGrips<Shape>(middle, at, half, (to) => ({ ...shape, at: tidyPoint(to) })),
    ...own.map((grip, k): Grip<Shape> => ({ ...grip, at: seen[k].at, off: seen[k].off })),
  ]
}

const pointOf = (number: number, at: Vec3, put: (to: Vec3) => Shape): Place<Shape> => ({
  kind: 'place',
  id: `point-${number}`,
  what: { kind: 'point', number },
  group: 'points',
  at,
  value: at,
  put,
})

type Point = [number, number, number]

function pointGrips(points: readonly Point[], put: (points: Point[]) => Shape): Place<Shape>[] {
  if (points.length > mostPoints) return []
  return points.map((at, number) =>
    pointOf(number, at, (to) => put(points.map((old, k) => (k === number ? tidyPoint(to) : old)))),
  )
}

/** A sweep's path stays in its plane: what is pulled out of it would be refused. */
function sweepPoints(shape: ShapeOf<'sweep'>): Place<Shape>[] {
  const up = unit(shape.up)
  const [first] = shape.path
  return pointGrips(shape.path, (path) => ({ ...shape, path })).map((grip) => ({
    ...grip,
    put: (to: Vec3) => grip.put(along(to, up, -dot(sub(to, first), up))),
  }))
}

function endGrips(shape: ShapeOf<'cylinder'>): Place<Shape>[] {
  return (['from', 'to'] as const).map((end) => ({
    kind: 'place',
    id: end,
    what: { kind: 'end', end },
    group: 'points',
    at: shape[end],
    value: shape[end],
    put: (to: Vec3) => ({ ...shape, [end]: tidyPoint(to) }),
  }))
}

function radiusGrip(shape: ShapeOf<'cylinder'>): Slide<Shape> {
  const axis = sub(shape.to, shape.from)
  const [way] = squareTo(length(axis) > 0 ? unit(axis) : [0, 0, 1])
  return {
    kind: 'slide',
    id: 'radius',
    what: { kind: 'radius' },
    group: 'size',
    at: along(add(shape.from, scale(axis, 0.5)), way, shape.radius),
    way,
    value: shape.radius,
    least: leastSize / 2,
    put: (radius) => ({ ...shape, radius }),
  }
}

/** How far the surface lies from the bay's origin, along its normal. */
function normalGrip(shape: ShapeOf<'halfSpace'>): Slide<Shape> {
  const way = unit(shape.normal)
  const value = tidy(dot(shape.point, way))
  return {
    kind: 'slide',
    id: 'normal',
    what: { kind: 'normal' },
    group: 'move',
    at: shape.point,
    way,
    value,
    put: (to) => ({ ...shape, point: tidyPoint(along(shape.point, way, to - value)) }),
  }
}
