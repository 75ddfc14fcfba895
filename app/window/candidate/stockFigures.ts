import type { FigureSpec } from '../editors/figure.ts'
import type { Quantity } from '../editors/quantity.ts'
import type { FieldPath } from '../state/edit.ts'

/** Makes figures of a thing from what they are called and where they stand in it. */
export const figuresOf =
  (of: string, path: FieldPath) =>
  (label: string, field: FieldPath, quantity: Quantity = 'length', more: Partial<FigureSpec> = {}): FigureSpec => ({
    of,
    label,
    path: [...path, ...field],
    quantity,
    ...more,
  })
