import { z } from 'zod'
import type { Outcome } from '../fault.ts'
import { box } from './box.ts'
import { cylinder } from './cylinder.ts'
import type { ShapeContext } from './definition.ts'
import type { Form } from './form.ts'
import { halfSpace } from './halfSpace.ts'
import { hull } from './hull.ts'
import { mesh } from './meshShape.ts'
import { sweep } from './sweep.ts'
import { tube } from './tube.ts'

/** Every kind of shape a bay file may hold, by its name there. A new one: its file, a line here, a line in the union below. */
export const shapes = { box, cylinder, hull, halfSpace, sweep, tube, mesh }

export const shapeSchema = z.discriminatedUnion('kind', [
  box.schema,
  cylinder.schema,
  hull.schema,
  halfSpace.schema,
  sweep.schema,
  tube.schema,
  mesh.schema,
])
export type Shape = z.infer<typeof shapeSchema>
export type ShapeKind = Shape['kind']

/** Forms of any shape, bay frame, mm; faults name fields from 'shape.' on. */
export function formsOf(shape: Shape, context: ShapeContext): Outcome<readonly Form[]> {
  // The table holds for each kind the reader of that very kind, which the compiler cannot follow through an index.
  const solid = shapes[shape.kind].solid as (shape: Shape, context: ShapeContext) => Outcome<readonly Form[]>
  return solid(shape, context)
}
