import { z } from 'zod'
import { jsonTroubles } from '../bay/jsonText.ts'
import { bayLimits } from '../bay/limits.ts'
import { moveSchema, offeringSchema } from '../bay/offeringSchema.ts'
import { schemaTroubles } from '../bay/schemaTroubles.ts'
import { toFaults } from '../bay/trouble.ts'
import { bad, good, type Outcome } from '../fault.ts'
import type { SeatPath } from './answer.ts'

const movesSchema = offeringSchema.extend({
  moves: z
    .array(
      moveSchema.extend({
        /** Written beside a found move for people; not read. */
        words: z.string().max(1000).optional(),
      }),
    )
    .min(1)
    .max(100),
})

/**
 * A path of offering up as a file has it: `{"start": {"at", "turn"}, "moves": [{"shift", "pivot", "axis", "angle"}]}`, mm and
 * degrees, bay frame; the form in which `seat --json` gives its own.
 * @param file for faults
 * @returns faults with field, line and column: broken JSON, unknown and missing fields, values out of range, zero axes
 */
export function readMoves(text: string, file: string): Outcome<SeatPath> {
  const source = { file, text }
  const [unreadable] = jsonTroubles(text, bayLimits).filter(({ code }) => code !== 'duplicate-field')
  if (unreadable) return bad(...toFaults([{ ...unreadable, path: [] }], null, source))
  const value: unknown = JSON.parse(text)
  const troubles = schemaTroubles(movesSchema, value)
  if (troubles.length > 0) return bad(...toFaults(troubles, value, source))
  const { start, moves } = movesSchema.parse(value)
  return good({ start, moves: moves.map(({ shift, pivot, axis, angle }) => ({ shift, pivot, axis, angle })) })
}
