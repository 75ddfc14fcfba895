import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import type { FieldPath } from '../state/edit.ts'
import type { Quantity } from './quantity.ts'

/** One number of the bay, as its field has it. */
export interface FigureSpec {
  readonly label: string
  readonly path: FieldPath
  readonly quantity: Quantity
  /** May be empty; shown is then what holds instead. */
  readonly otherwise?: number
  /** May be empty, and nothing holds instead. */
  readonly optional?: boolean
  /** Shown in an optional field that is empty. */
  readonly emptyText?: string
  /** What is edited, for the name of the step: 'Core'. */
  readonly of: string
  /** The value where it is not the field's own: a diameter of which the bay keeps the radius. Goes together with `apply`. */
  readonly read?: (bay: Bay) => number | undefined
  /** What entering a value does, where it changes more than its own field. */
  readonly apply?: (bay: Bay, value: number) => Bay
}

/** Beside its own field a fault need not say where it is. */
export const withoutPlace = ({ item: _item, field: _field, line: _line, column: _column, ...fault }: Fault): Fault =>
  fault
