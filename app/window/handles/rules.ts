import { candidateGrips } from '../../../core/bay/grips/candidateGrips.ts'
import type { Grip, Slide } from '../../../core/bay/grips/grip.ts'
import { shapeGrips } from '../../../core/bay/grips/shapeGrips.ts'
import { scale } from '../../../core/shape/vec.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { roomAlong } from '../../../core/verdict/roomAlong.ts'
import { stepOf } from '../editors/quantity.ts'
import { keepOutIdOf, pipeOfPart } from '../ledger/names.ts'
import { shownLedger, type WindowState } from '../state/windowState.ts'
import { sizesOf, type SnapLine, type SnapRule } from './snapping.ts'
import type { Thing } from './thing.ts'

/** How near to where it just clears a thing comes to rest there, pixels. */
const reach = 6
/** Kept back from there, mm: the next ledger's error may be another one, and it has to clear. */
const back = 0.001

export type StepSize = 'fine' | 'plain' | 'coarse'

/**
 * Where a grip's value may come to rest.
 * @param size 'fine' lets go of all but the finest step
 * @param pixel mm of a pixel of the drawing
 */
export function ruleOf(state: WindowState, thing: Thing, grip: Grip<unknown>, size: StepSize, pixel: number): SnapRule {
  const step = stepOf(grip.kind === 'turn' ? 'angle' : 'length', state.units, size)
  if (size !== 'plain' || grip.kind !== 'slide') return { step }
  if (grip.what.kind === 'face' && thing.candidate) return { step, ...sizesOf(grip.what.face, thing.candidate.limits) }
  if (grip.what.kind === 'along') return { step, lines: gapLines(state, thing, grip), reach: reach * pixel }
  return { step }
}

/** Where the thing, moved along an axis, just has the clearance asked for: one place on either side, as far as there are. */
function gapLines(state: WindowState, thing: Thing, grip: Slide<unknown>): SnapLine[] {
  const kept = shownLedger(state)
  const then = kept && valueThen(kept.bay, state.candidate, thing, grip.id)
  if (!kept || then == null) return []
  const isKeepOut = thing.item.side === 'keepOut'
  const way = isKeepOut ? scale(grip.way, -1) : grip.way
  const rooms = kept.ledger.pairs.flatMap((pair) => {
    const room = movesWith(thing, kept.bay, pair) ? roomAlong(pair, way) : null
    // Towards it the margin and the way there have one sign; away from it they do not.
    return room === null ? [] : [{ room, ahead: room * pair.margin > 0, keepOut: pair.keepOut }]
  })
  const ahead = rooms.filter((one) => one.ahead).sort((one, other) => one.room - other.room)[0]
  const behind = rooms.filter((one) => !one.ahead).sort((one, other) => other.room - one.room)[0]
  return [
    ...(ahead ? [{ value: then + ahead.room - back, keepOut: ahead.keepOut }] : []),
    ...(behind ? [{ value: then + behind.room + back, keepOut: behind.keepOut }] : []),
  ]
}

/** Pipes are no help: of their corners only those near the ports go along. */
const movesWith = (thing: Thing, bay: Parameters<typeof keepOutIdOf>[0], { part, keepOut, between }: LedgerPair) =>
  between === undefined &&
  pipeOfPart(thing.candidate, part) === null &&
  (thing.item.side === 'part' || keepOutIdOf(bay, keepOut) === thing.item.key)

/** The grip's value in the bay that the ledger is of. */
function valueThen(
  { candidates, keepOuts }: NonNullable<WindowState['kept']>['bay'],
  candidateId: string | null,
  { item }: Thing,
  id: string,
): number | null {
  const candidate = candidates.find((one) => one.id === candidateId)
  const keepOut = keepOuts.find((one) => one.id === item.key)
  const grips: readonly Grip<unknown>[] =
    item.side === 'part' ? (candidate ? candidateGrips(candidate) : []) : keepOut ? shapeGrips(keepOut.shape) : []
  const grip = grips.find((one) => one.id === id)
  return grip?.kind === 'slide' ? grip.value : null
}
