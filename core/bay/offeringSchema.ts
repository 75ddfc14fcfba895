import { z } from 'zod'
import { pointSchema, vectorSchema } from '../shape/fields.ts'

const degrees = z.number().min(-36_000).max(36_000)

/** One move of offering up; see core/seat. Bay frame, mm and degrees. */
export const moveSchema = z.strictObject({
  /** How far the pivot goes, straight. */
  shift: pointSchema,
  /** At the move's beginning. */
  pivot: pointSchema,
  axis: vectorSchema,
  /** About `axis` through the pivot, right-handed. */
  angle: degrees,
})

/** The way in that was chosen for a candidate: where it starts, and the moves that bring it to its seat. */
export const offeringSchema = z.strictObject({
  start: z.strictObject({ at: pointSchema, turn: z.tuple([degrees, degrees, degrees]) }),
  moves: z.array(moveSchema).min(1).max(100),
})
