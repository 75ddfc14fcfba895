import { z } from 'zod'
import { bad, good, type Outcome } from '../fault.ts'
import type { ShapeDefinition } from './definition.ts'
import { pointSchema, vectorSchema } from './fields.ts'
import type { Form } from './form.ts'
import { unit } from './vec.ts'

/** All that lies on the side that `normal` points away from: a floor at Z −60 has normal [0, 0, 1]. */
const schema = z.strictObject({ kind: z.literal('halfSpace'), point: pointSchema, normal: vectorSchema })
type HalfSpaceShape = z.infer<typeof schema>

function solid({ point, normal }: HalfSpaceShape): Outcome<readonly Form[]> {
  // Twice: the length of a vector near the smallest numbers is known to a bit or two only.
  const outward = unit(unit(normal))
  if (outward.every((x) => x === 0))
    return bad({ code: 'zero-vector', field: 'shape.normal', expected: 'a vector that is not zero', got: normal })
  return good([{ form: 'halfSpace', point, normal: outward }])
}

export const halfSpace = { kind: 'halfSpace', schema, solid } satisfies ShapeDefinition<HalfSpaceShape>
