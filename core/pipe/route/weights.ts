import type { Pipe } from '../../bay/schema.ts'
import { bendCoefficient } from '../bendLoss.ts'
import type { RouteRequest } from './answer.ts'

/** What a route is judged by: its developed length, and mm for each bend and for what the bends lose. */
export interface Weights {
  /** mm a bend. */
  readonly bend: number
  /** mm for a loss coefficient of 1. */
  readonly loss: number
  /** What one bend adds to the cost beside its length, mm, by the angle turned, radians. */
  readonly ofBend: (angle: number) => number
}

/** mm: common practice among those who bend by hand is to go a hand's breadth round for one bend less; no source. */
const defaultBend = 100
/** Friction factor of drawn tube at the speeds of charge pipes (checks E4): it enters the bends' loss only weakly. */
const friction = { atLeast: 0.018, atMost: 0.018, methods: ['drawn tube', 'drawn tube'] } as const

/** @param pipe its bore and bend radius set the loss of a bend: the middle of the band between published methods */
export function weightsOf(
  { outsideDiameter, wall, bendRadius }: Pick<Pipe, 'outsideDiameter' | 'wall' | 'bendRadius'>,
  { bendWeight = defaultBend, lossWeight = 0 }: RouteRequest,
): Weights {
  const bore = outsideDiameter - 2 * wall
  if (!(lossWeight > 0)) return { bend: bendWeight, loss: 0, ofBend: () => bendWeight }
  // Asked for millions of bends: from a table by degrees, straight lines between.
  const table = Array.from({ length: 182 }, (_, degrees) => {
    const { atLeast, atMost } = bendCoefficient(bore, bendRadius, degrees, friction)
    return bendWeight + (lossWeight * (atLeast + atMost)) / 2
  })
  const ofBend = (angle: number) => {
    const degrees = (angle * 180) / Math.PI
    const whole = Math.min(180, Math.floor(degrees))
    return table[whole] + (degrees - whole) * (table[whole + 1] - table[whole])
  }
  return { bend: bendWeight, loss: lossWeight, ofBend }
}
