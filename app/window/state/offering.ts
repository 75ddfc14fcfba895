import type { Candidate } from '../../../core/bay/schema.ts'
import type { SeatPath } from '../../../core/seat/answer.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'

export type Offering = NonNullable<Candidate['offering']>

/** A path as a candidate of the bay holds it. */
export const asOffering = ({ start, moves }: SeatPath): Offering => ({
  start: { at: triple(start.at), turn: triple(start.turn) },
  moves: moves.map(({ shift, pivot, axis, angle }) => ({
    shift: triple(shift),
    pivot: triple(pivot),
    axis: triple(axis),
    angle,
  })),
})

const triple = ([x, y, z]: Vec3): [number, number, number] => [x, y, z]
