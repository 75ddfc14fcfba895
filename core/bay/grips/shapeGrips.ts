import type { Bounds } from '../../shape/form.ts'
import type { Shape } from '../../shape/registry.ts'
import { add, along, dot, length, scale, squareTo, sub, unit, type Vec3 } from '../../shape/vec.ts'
import { faceGrips, moveGrips, turnGrips, type TurnedBox } from './boxGrips.ts'
import { type Grip, leastSize, type Place, type Slide, tidy, tidyPoint } from './grip.ts'

type ShapeOf<K extends Shape['kind']> = Extract<Shape, { kind: K }>

/** More points than this would cover the drawing, and each other. */
const mostPoints = 80

/**
 * What of a keep-out's shape can be taken hold of.
 * @param bounds of its solid, bay frame, mm: the whole is moved by its middle; a half-space has none, and a solid of very
 *   many points (a hull, a path) is only moved
 * @returns bay frame, mm and degrees; ids: 'place', 'along-x', 'turn-y', 'face-rear', 'point-0', 'from', 'to', 'radius',
 *   'normal' and their like
 */
export function shapeGrips(shape: Shape, bounds: Bounds): Grip<Shape>[] {
  switch (shape.kind) {
    case 'box':
      return boxGrips(shape)
    case 'cylinder':
      return [...wholeGrips(shape, bounds), ...endGrips(shape), radiusGrip(shape)]
    case 'hull':
      return [...wholeGrips(shape, bounds), ...pointGrips(shape.points, (points) => ({ ...shape, points }))]
    case 'halfSpace':
      return [normalGrip(shape)]
    case 'sweep':
      return [...wholeGrips(shape, bounds), ...sweepPoints(shape)]
    case 'tube':
      return [...wholeGrips(shape, bounds), ...pointGrips(shape.path, (path) => ({ ...shape, path }))]
    case 'mesh':
      return meshGrips(shape, bounds)
  }
}

/** The shape somewhere else. */
function moved(shape: Shape, by: Vec3): Shape {
  const to = (point: Vec3) => tidyPoint(add(point, by))
  switch (shape.kind) {
    case 'box':
      return { ...shape, at: to(shape.at) }
    case 'cylinder':
      return { ...shape, from: to(shape.from), to: to(shape.to) }
    case 'hull':
      return { ...shape, points: shape.points.map(to) }
    case 'halfSpace':
      return { ...shape, point: to(shape.point) }
    case 'sweep':
    case 'tube':
      return { ...shape, path: shape.path.map(to) }
    case 'mesh':
      return { ...shape, at: to(shape.at ?? [0, 0, 0]) }
  }
}

const middleOf = ({ min, max }: Bounds): Vec3 => tidyPoint(scale(add(min, max), 0.5))
const halfOf = ({ min, max }: Bounds): Vec3 => scale(sub(max, min), 0.5)

/** @param value the point of reference; the middle where the shape has none of its own */
function wholeGrips(shape: Shape, bounds: Bounds, value = middleOf(bounds)): Grip<Shape>[] {
  return moveGrips(middleOf(bounds), value, halfOf(bounds), (to) => moved(shape, sub(to, value)))
}

function boxGrips(shape: ShapeOf<'box'>): Grip<Shape>[] {
  const box: TurnedBox = { at: shape.at, size: shape.size, turn: shape.turn ?? [0, 0, 0] }
  const half = scale(box.size, 0.5)
  return [
    ...moveGrips<Shape>(box.at, box.at, half, (at) => ({ ...shape, at: tidyPoint(at) })),
    ...turnGrips<Shape>(box, (turn) => ({ ...shape, turn: tidyPoint(turn) })),
    ...faceGrips<Shape>(box, (at, [x, y, z]) => ({ ...shape, at: tidyPoint(at), size: [x, y, z] })),
  ]
}

function meshGrips(shape: ShapeOf<'mesh'>, bounds: Bounds): Grip<Shape>[] {
  const at = shape.at ?? [0, 0, 0]
  const turn = shape.turn ?? [0, 0, 0]
  const middle = middleOf(bounds)
  // A mesh turns about its own origin, but is taken hold of where it is seen.
  const size = scale(halfOf(bounds), 2)
  const grips = turnGrips<Shape>({ at: middle, size, turn: [0, 0, 0] }, () => shape)
  const own = turnGrips<Shape>({ at, size, turn }, (to) => ({ ...shape, turn: tidyPoint(to) }))
  return [
    ...wholeGrips(shape, bounds, at),
    ...own.map((grip, k): Grip<Shape> => ({ ...grip, at: grips[k].at, off: grips[k].off })),
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
