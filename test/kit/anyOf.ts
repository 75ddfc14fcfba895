import fc from 'fast-check'
import { z } from 'zod'

/**
 * Any value that a schema takes, made from the schema itself, so that new fields are covered without a line here.
 * Numbers are drawn over their whole range, and now and then from the edges: 0, −0, the smallest and the largest.
 */
export function anyOf<T>(schema: z.ZodType<T>): fc.Arbitrary<T> {
  return arbitrary(schema).filter((value) => schema.safeParse(value).success) as fc.Arbitrary<T>
}

function arbitrary(schema: z.ZodType): fc.Arbitrary<unknown> {
  if (schema instanceof z.ZodObject) return objectOf(schema)
  if (schema instanceof z.ZodTuple) return fc.tuple(...schema.def.items.map((item) => arbitrary(item as z.ZodType)))
  if (schema instanceof z.ZodArray)
    return fc.array(arbitrary(schema.element as z.ZodType), {
      minLength: leastLength(schema),
      maxLength: leastLength(schema) + 2,
    })
  if (schema instanceof z.ZodDiscriminatedUnion)
    return fc.oneof(...schema.options.map((option) => arbitrary(option as z.ZodType)))
  if (schema instanceof z.ZodEnum) return fc.constantFrom(...schema.options)
  if (schema instanceof z.ZodLiteral) return fc.constantFrom(...schema.values)
  if (schema instanceof z.ZodBoolean) return fc.boolean()
  if (schema instanceof z.ZodNumber) return numberOf(schema)
  if (schema instanceof z.ZodString)
    return schema.format === 'regex'
      ? fc.stringMatching(/^[a-z0-9][a-z0-9-]{0,8}$/)
      : fc.string({ unit: 'binary', minLength: 1, maxLength: 20 })
  throw new Error(`no values known for ${schema.constructor.name}`)
}

function objectOf(schema: z.ZodObject): fc.Arbitrary<unknown> {
  const entries = Object.entries(schema.shape) as [string, z.ZodType][]
  const optional = entries.filter(([, field]) => field instanceof z.ZodOptional).map(([key]) => key)
  const model = Object.fromEntries(
    entries.map(([key, field]) => [
      key,
      arbitrary(field instanceof z.ZodOptional ? (field.unwrap() as z.ZodType) : field),
    ]),
  )
  const requiredKeys = entries.map(([key]) => key).filter((key) => !optional.includes(key))
  return fc.record(model, { requiredKeys }).map((value) => ({ ...value }))
}

function numberOf(schema: z.ZodNumber): fc.Arbitrary<number> {
  const min = schema.minValue ?? -Number.MAX_VALUE
  const max = schema.maxValue ?? Number.MAX_VALUE
  const edges = [0, -0, 5e-324, -5e-324, 1e-7, 0.1, 1 / 3, 120.65, min, max].filter((x) => schema.safeParse(x).success)
  return fc
    .oneof(fc.double({ min, max, noNaN: true }), fc.constantFrom(...edges))
    .filter((x) => schema.safeParse(x).success)
}

const leastLength = (schema: z.ZodArray): number => {
  for (let n = 0; n < 6; n++)
    if (!schema.safeParse(new Array(n).fill(null)).error?.issues.some((issue) => issue.code === 'too_small')) return n
  return 6
}
