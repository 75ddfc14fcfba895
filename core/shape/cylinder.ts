import { z } from 'zod'
import { bad, good, type Outcome } from '../fault.ts'
import type { ShapeDefinition } from './definition.ts'
import { pointSchema, positiveSchema } from './fields.ts'
import type { Form } from './form.ts'
import { leastSize } from './polytope.ts'
import { distance } from './vec.ts'

/** Right circular cylinder with flat ends at `from` and `to`, mm. */
const schema = z.strictObject({
  kind: z.literal('cylinder'),
  from: pointSchema,
  to: pointSchema,
  radius: positiveSchema,
})
type CylinderShape = z.infer<typeof schema>

function solid({ from, to, radius }: CylinderShape): Outcome<readonly Form[]> {
  const expected = 'at least 0.000001 mm'
  const long = distance(from, to)
  if (!(long >= leastSize))
    return bad({ code: 'zero-length', field: 'shape.to', expected: `${expected} from "from"`, got: long })
  if (!(radius >= leastSize)) return bad({ code: 'too-small', field: 'shape.radius', expected, got: radius })
  return good([{ form: 'convex', body: { kind: 'cylinder', from, to, radius } }])
}

export const cylinder = { kind: 'cylinder', schema, solid } satisfies ShapeDefinition<CylinderShape>
