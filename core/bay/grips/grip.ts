import type { Vec3 } from '../../shape/vec.ts'

export type Face = 'front' | 'rear' | 'left' | 'right' | 'below' | 'above'

/** What of a thing a grip changes. */
export type GripWhat =
  | { readonly kind: 'place' }
  | { readonly kind: 'along'; readonly axis: 0 | 1 | 2 }
  | { readonly kind: 'turn'; readonly axis: 0 | 1 | 2 }
  | { readonly kind: 'face'; readonly face: Face }
  | { readonly kind: 'tank'; readonly side: 'left' | 'right' }
  | { readonly kind: 'point'; readonly number: number }
  | { readonly kind: 'end'; readonly end: 'from' | 'to' }
  | { readonly kind: 'radius' }
  | { readonly kind: 'normal' }

export type GripGroup = 'move' | 'turn' | 'size' | 'points'

interface Common {
  /** Unlike every other grip of the same thing; the same for as long as the thing has it. */
  readonly id: string
  readonly what: GripWhat
  readonly group: GripGroup
  /** Where it is taken hold of, bay frame, mm. */
  readonly at: Vec3
  /** Which way it may stand off from there so as not to cover others, unit, bay frame. */
  readonly off?: Vec3
}

/** A number, mm, that grows by as much as the grip is pulled along `way`. */
export interface Slide<T> extends Common {
  readonly kind: 'slide'
  /** Unit, bay frame. */
  readonly way: Vec3
  readonly value: number
  /** Smaller makes no sense. */
  readonly least?: number
  readonly put: (value: number) => T
}

/** An angle, degrees, that grows with a right-handed turn about `axis` through `centre`. */
export interface Turn<T> extends Common {
  readonly kind: 'turn'
  readonly axis: Vec3
  readonly centre: Vec3
  readonly value: number
  readonly put: (value: number) => T
}

/** A point that goes anywhere. */
export interface Place<T> extends Common {
  readonly kind: 'place'
  /** The point that is set; for a whole thing not where the grip is, but its own point of reference. */
  readonly value: Vec3
  readonly put: (value: Vec3) => T
}

/** Something of a solid to take hold of: where it is, what it sets, and the thing with it set. */
export type Grip<T> = Slide<T> | Turn<T> | Place<T>

/** Sizes do not go below this by hand, mm. */
export const leastSize = 1

/** Free of the dust of binary arithmetic, a nanometre's thousandth; no −0. */
export const tidy = (x: number): number => Math.round(x * 1e9) / 1e9 + 0
export const tidyPoint = ([x, y, z]: Vec3): [number, number, number] => [tidy(x), tidy(y), tidy(z)]

export const axes = [0, 1, 2] as const
export const axisUnit = (axis: 0 | 1 | 2): Vec3 => [axis === 0 ? 1 : 0, axis === 1 ? 1 : 0, axis === 2 ? 1 : 0]

/** A triple with one of its numbers replaced. */
export const withAxis = (v: Vec3, axis: number, x: number): [number, number, number] => {
  const [a, b, c] = v.map((old, k) => (k === axis ? x : old))
  return [a, b, c]
}
