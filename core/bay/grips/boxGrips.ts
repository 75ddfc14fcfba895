import { add, along, scale, turned, turnMatrix, unit, type Vec3 } from '../../shape/vec.ts'
import {
  axes,
  axisUnit,
  type Face,
  type Grip,
  leastSize,
  type Place,
  type Slide,
  tidyPoint,
  type Turn,
} from './grip.ts'

/** A box by its middle, sizes along its own axes, and turn in degrees as the bay file has it. */
export interface TurnedBox {
  readonly at: Vec3
  readonly size: Vec3
  readonly turn: Vec3
}

/** Which axis of the box a face is square to, and on which side. */
export const faceSides: Readonly<Record<Face, readonly [axis: 0 | 1 | 2, side: 1 | -1]>> = {
  front: [0, -1],
  rear: [0, 1],
  left: [1, -1],
  right: [1, 1],
  below: [2, -1],
  above: [2, 1],
}

/** Six faces to pull; the opposite one stays exactly where it was, to a nanometre's thousandth. */
export function faceGrips<T>({ at, size, turn }: TurnedBox, put: (at: Vec3, size: Vec3) => T): Slide<T>[] {
  const matrix = turnMatrix(turn)
  return (Object.keys(faceSides) as Face[]).map((face) => {
    const [axis, side] = faceSides[face]
    const way = add(turned(matrix, scale(axisUnit(axis), side)), [0, 0, 0])
    return {
      kind: 'slide',
      id: `face-${face}`,
      what: { kind: 'face', face },
      group: 'size',
      at: along(at, way, size[axis] / 2),
      way,
      value: size[axis],
      least: leastSize,
      put: (value) =>
        put(
          tidyPoint(along(at, way, (value - size[axis]) / 2)),
          size.map((old, k) => (k === axis ? value : old)) as unknown as Vec3,
        ),
    }
  })
}

/**
 * Three turns. Each sets its own angle as the bay file has it: the first two go about axes that later turns have carried
 * along.
 */
export function turnGrips<T>({ at, size, turn }: TurnedBox, put: (turn: Vec3) => T): Turn<T>[] {
  const matrix = turnMatrix(turn)
  const about = [turned(matrix, axisUnit(0)), turned(turnMatrix([0, 0, turn[2]]), axisUnit(1)), axisUnit(2)]
  return axes.map((axis) => {
    // Over the edge that runs along the axis: in the middle of a face there is a grip already.
    const corner = size.map((x, k) => (k === axis ? 0 : x / 2)) as unknown as Vec3
    const out = turned(matrix, corner)
    return {
      kind: 'turn',
      id: `turn-${'xyz'[axis]}`,
      what: { kind: 'turn', axis },
      group: 'turn',
      at: add(at, out),
      off: unit(out),
      axis: about[axis],
      centre: at,
      value: turn[axis],
      put: (value) => put(turn.map((old, k) => (k === axis ? value : old)) as unknown as Vec3),
    }
  })
}

/**
 * A whole thing to move: freely, and along each axis of the bay.
 * @param middle where it is taken hold of
 * @param value its point of reference, which is what people set
 * @param reach from the middle to its end along each axis, mm
 */
export function moveGrips<T>(middle: Vec3, value: Vec3, reach: Vec3, put: (value: Vec3) => T): Grip<T>[] {
  const whole: Place<T> = {
    kind: 'place',
    id: 'place',
    what: { kind: 'place' },
    group: 'move',
    at: middle,
    value,
    put,
  }
  const slides = axes.map((axis): Slide<T> => {
    const way = axisUnit(axis)
    return {
      kind: 'slide',
      id: `along-${'xyz'[axis]}`,
      what: { kind: 'along', axis },
      group: 'move',
      at: along(middle, way, reach[axis]),
      off: way,
      way,
      value: value[axis],
      put: (mm) => put(value.map((old, k) => (k === axis ? mm : old)) as unknown as Vec3),
    }
  })
  return [whole, ...slides]
}

/** Half of what a turned box takes up along each axis of the bay, mm. */
export function reachOf({ size, turn }: Pick<TurnedBox, 'size' | 'turn'>): Vec3 {
  const m = turnMatrix(turn)
  return axes.map((row) =>
    axes.reduce<number>((sum, k) => sum + (Math.abs(m[3 * row + k]) * size[k]) / 2, 0),
  ) as unknown as Vec3
}
