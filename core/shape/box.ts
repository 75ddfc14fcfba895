import { z } from 'zod'
import { bad, good, type Outcome } from '../fault.ts'
import type { ShapeDefinition } from './definition.ts'
import { pointSchema, positiveSchema } from './fields.ts'
import type { Form } from './form.ts'
import { boxPolytope } from './polytope.ts'
import { turnMatrix } from './vec.ts'

/** `at`: centre; `size`: full lengths, mm; `turn`: degrees about the fixed X, then Y, then Z axis through `at`. */
const schema = z.strictObject({
  kind: z.literal('box'),
  at: pointSchema,
  size: z.tuple([positiveSchema, positiveSchema, positiveSchema]),
  turn: pointSchema.optional(),
})
type BoxShape = z.infer<typeof schema>

function solid(shape: BoxShape): Outcome<readonly Form[]> {
  const body = boxPolytope(shape.at, shape.size, turnMatrix(shape.turn ?? [0, 0, 0]))
  if (!body.ok) return bad(...body.faults.map((fault) => ({ ...fault, field: `shape.${fault.field}` })))
  return good([{ form: 'convex', body: body.value }])
}

export const box = { kind: 'box', schema, solid } satisfies ShapeDefinition<BoxShape>
