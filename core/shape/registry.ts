import { z } from 'zod'
import { lengthSchema, pointSchema, positiveSchema, vectorSchema } from './fields.ts'

// PLACEHOLDER until every shape has its file: only the union of schemas, so that types can be taken from it.
const turn = pointSchema.optional()
export const shapeSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('box'), at: pointSchema, size: z.tuple([positiveSchema, positiveSchema, positiveSchema]), turn }),
  z.strictObject({ kind: z.literal('cylinder'), from: pointSchema, to: pointSchema, radius: positiveSchema }),
  z.strictObject({ kind: z.literal('hull'), points: z.array(pointSchema).min(4) }),
  z.strictObject({ kind: z.literal('halfSpace'), point: pointSchema, normal: vectorSchema }),
  z.strictObject({ kind: z.literal('sweep'), section: z.array(z.tuple([lengthSchema, lengthSchema])).min(3), path: z.array(pointSchema).min(2), up: vectorSchema }),
  z.strictObject({ kind: z.literal('tube'), path: z.array(pointSchema).min(2), radius: positiveSchema, bendRadius: positiveSchema }),
  z.strictObject({ kind: z.literal('mesh'), file: z.string().min(1), unit: z.enum(['mm', 'cm', 'm', 'inch', 'foot']), at: pointSchema.optional(), turn }),
])
export type Shape = z.infer<typeof shapeSchema>
export type ShapeKind = Shape['kind']
