import { withAxis } from '../../../core/bay/grips/grip.ts'
import type { Bay, KeepOut } from '../../../core/bay/schema.ts'
import { boxCorner, centreFromCorner } from '../../../core/shape/boxCorner.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import type { FigureSpec } from '../editors/figure.ts'
import type { Quantity } from '../editors/quantity.ts'
import type { FigureGroup } from '../editors/specs.ts'
import { type FieldPath, withField } from '../state/edit.ts'
import { words } from '../words.ts'

type Shape = KeepOut['shape']
type ShapeOf<K extends Shape['kind']> = Extract<Shape, { kind: K }>

const text = words.measure.shape
const axes = [text.x, text.y, text.z]

/** Where an item's numbers are, and what it is called in the names of steps. */
export interface Base {
  readonly of: string
  readonly path: FieldPath
}

const one = (base: Base, label: string, path: FieldPath, quantity: Quantity, more: Partial<FigureSpec> = {}) =>
  ({ of: base.of, label, path: [...base.path, ...path], quantity, ...more }) satisfies FigureSpec

/** Three coordinates of a point that is always there. */
export const pointGroup = (base: Base, title: string, field: string): FigureGroup => ({
  title,
  figures: axes.map((axis, k) => one(base, axis, [field, k], 'length', { of: `${base.of}, ${title.toLowerCase()}` })),
  together: true,
})

/** Three numbers of a direction; its length is of no meaning. */
export const directionGroup = (base: Base, title: string, field: string): FigureGroup => ({
  title,
  figures: axes.map((axis, k) => one(base, axis, [field, k], 'share', { of: `${base.of}, ${title.toLowerCase()}` })),
  together: true,
})

/** Figures of a part of a shape, read and changed as a whole. */
function derived<K extends Shape['kind']>(base: Base, keepOut: number, kind: K) {
  const shapeIn = (bay: Bay): ShapeOf<K> | null => {
    const shape = bay.keepOuts[keepOut]?.shape
    return shape?.kind === kind ? (shape as ShapeOf<K>) : null
  }
  return (
    label: string,
    field: FieldPath,
    quantity: Quantity,
    read: (shape: ShapeOf<K>) => number,
    write: (shape: ShapeOf<K>, value: number) => ShapeOf<K>,
  ): FigureSpec =>
    one(base, label, field, quantity, {
      read: (bay) => {
        const shape = shapeIn(bay)
        return shape ? read(shape) : undefined
      },
      apply: (bay, value) => {
        const shape = shapeIn(bay)
        return shape ? withField(bay, ['keepOuts', keepOut, 'shape'], write(shape, value)) : bay
      },
    })
}

const plain = ([x, y, z]: Vec3): [number, number, number] => [x, y, z]

/** Turn and place that a shape may lack: nothing is then the same as noughts. */
function turnGroup(base: Base, keepOut: number, kind: 'box' | 'mesh'): FigureGroup {
  const figure = derived(base, keepOut, kind)
  return {
    title: text.turn,
    together: true,
    figures: axes.map((axis, k) =>
      figure(
        text.about(axis),
        ['turn', k],
        'angle',
        ({ turn }) => turn?.[k] ?? 0,
        (shape, angle) => {
          const { turn, ...rest } = shape
          const next = withAxis(turn ?? [0, 0, 0], k, angle)
          return (next.every((x) => x === 0) ? rest : { ...rest, turn: next }) as typeof shape
        },
      ),
    ),
  }
}

/** @param by what the box is held by while its sizes change */
export function boxGroups(base: Base, keepOut: number, by: 'centre' | 'corner'): FigureGroup[] {
  const figure = derived(base, keepOut, 'box')
  const corner = axes.map((axis, k) =>
    figure(
      axis,
      ['at', k],
      'length',
      (shape) => boxCorner(shape)[k],
      (shape, mm) => ({
        ...shape,
        at: plain(centreFromCorner(withAxis(boxCorner(shape), k, mm), shape.size, shape.turn)),
      }),
    ),
  )
  const sizes = [text.alongX, text.alongY, text.alongZ].map((label, k) =>
    figure(
      label,
      ['size', k],
      'length',
      (shape) => shape.size[k],
      (shape, mm) => {
        const size = withAxis(shape.size, k, mm)
        const at = by === 'centre' ? shape.at : plain(centreFromCorner(boxCorner(shape), size, shape.turn))
        return { ...shape, at, size }
      },
    ),
  )
  return [
    by === 'centre' ? pointGroup(base, text.place, 'at') : { title: text.cornerPlace, figures: corner, together: true },
    { title: text.sizes, figures: sizes, together: true },
    turnGroup(base, keepOut, 'box'),
  ]
}

export function cylinderGroups(base: Base, keepOut: number): FigureGroup[] {
  return [pointGroup(base, text.from, 'from'), pointGroup(base, text.to, 'to'), roundGroup(base, keepOut, 'cylinder')]
}

/** Radius and diameter of one thing: whichever was measured is typed. */
export function roundGroup(base: Base, keepOut: number, kind: 'cylinder' | 'tube'): FigureGroup {
  const figure = derived(base, keepOut, kind)
  const diameter = figure(
    text.diameter,
    ['radius'],
    'length',
    (shape) => 2 * shape.radius,
    (shape, mm) => ({ ...shape, radius: mm / 2 }),
  )
  const bend = kind === 'tube' ? [one(base, text.bendRadius, ['bendRadius'], 'length')] : []
  return { title: text.round, figures: [diameter, one(base, text.radius, ['radius'], 'length'), ...bend] }
}

/** Where a mesh's own origin lies, and how it is turned. */
export function meshGroups(base: Base, keepOut: number): FigureGroup[] {
  const figure = derived(base, keepOut, 'mesh')
  const at = axes.map((axis, k) =>
    figure(
      axis,
      ['at', k],
      'length',
      (shape) => shape.at?.[k] ?? 0,
      (shape, mm) => ({ ...shape, at: withAxis(shape.at ?? [0, 0, 0], k, mm) }),
    ),
  )
  return [{ title: text.at, figures: at, together: true }, turnGroup(base, keepOut, 'mesh')]
}
