import type { z } from 'zod'
import type { Outcome } from '../fault.ts'
import type { Form } from './form.ts'
import type { Mesh } from './mesh.ts'

/** What a shape may need besides its own fields. */
export interface ShapeContext {
  /** Checked meshes by the name in a shape's `file`, in the file's own unit. */
  readonly meshes: ReadonlyMap<string, Mesh>
}

/** One kind of shape: one file, one line in the registry. */
export interface ShapeDefinition<S extends { readonly kind: string }> {
  readonly kind: S['kind']
  readonly schema: z.ZodType<S>
  /** Its forms in the bay frame, mm; faults name fields from 'shape.' on. Fields are taken as the schema passed them. */
  readonly solid: (shape: S, context: ShapeContext) => Outcome<readonly Form[]>
}
