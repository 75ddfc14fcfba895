import { z } from 'zod'

/** Field schemas that shapes and the bay file share. Lengths are mm. `z.number()` refuses NaN and infinities. */
export const idSchema = z.string().regex(/^[a-z0-9][a-z0-9-]*$/, 'lower-case letters, digits and hyphens')
/** Any finite length in mm within ±1e7 (10 km: beyond it units are surely swapped). */
export const lengthSchema = z.number().min(-1e7).max(1e7)
export const positiveSchema = z.number().positive().max(1e7)
export const pointSchema = z.tuple([lengthSchema, lengthSchema, lengthSchema])
/** A direction of any length but zero. */
export const vectorSchema = pointSchema.refine((v) => v.some((x) => x !== 0), { message: 'a vector that is not zero' })
