import { z } from 'zod'
import { bad, good, type Outcome } from '../fault.ts'
import { roundCorners } from './centreline.ts'
import type { ShapeDefinition } from './definition.ts'
import { pointSchema, positiveSchema } from './fields.ts'
import type { Form } from './form.ts'
import { leastSize } from './polytope.ts'

/** Round sweep along `path`, mm; corners rounded to `bendRadius` (of the centreline, at least `radius`); flat ends. */
const schema = z.strictObject({
  kind: z.literal('tube'),
  path: z.array(pointSchema).min(2).max(1000),
  radius: positiveSchema,
  bendRadius: positiveSchema,
})
type TubeShape = z.infer<typeof schema>

function solid({ path, radius, bendRadius }: TubeShape): Outcome<readonly Form[]> {
  if (!(radius >= leastSize))
    return bad({ code: 'too-small', field: 'shape.radius', expected: 'at least 0.000001 mm', got: radius })
  const centreline = roundCorners(path, bendRadius, { radius })
  if (!centreline.ok)
    return bad(...centreline.faults.map((fault) => ({ ...fault, field: `shape.${fault.field ?? 'path'}` })))
  return good([{ form: 'round', centreline: centreline.value, radius }])
}

export const tube = { kind: 'tube', schema, solid } satisfies ShapeDefinition<TubeShape>
