import { good, type Outcome } from '../fault.ts'
import { boundsOf, unionBounds } from './bounds.ts'
import type { ShapeContext } from './definition.ts'
import type { Form, Solid } from './form.ts'
import { mirroredForm } from './mirror.ts'
import { formsOf, type Shape } from './registry.ts'

export interface SolidOptions extends ShapeContext {
  /** Mirror in the plane Y = 0 of the bay. */
  readonly mirrored?: boolean
}

/**
 * The solid that a shape of the bay file stands for.
 * @param shape as the schema passed it, bay frame, mm
 * @returns faults of the shape, fields from 'shape.' on: see each shape's file
 */
export function solidOf(shape: Shape, options: SolidOptions): Outcome<Solid> {
  const forms = formsOf(shape, options)
  if (!forms.ok) return forms
  return good(solidFrom(options.mirrored ? forms.value.map(mirroredForm) : forms.value))
}

/** A solid from its forms (at least one). */
export function solidFrom(forms: readonly Form[]): Solid {
  return {
    forms,
    bounds: unionBounds(forms.map(boundsOf)),
    open: forms.some((form) => form.form === 'mesh' && !form.mesh.closed),
  }
}
