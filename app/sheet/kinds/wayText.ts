import { mirrorId } from '../../../core/bay/sense.ts'
import type { SheetFacts } from '../../../core/sheet/facts/sheetFacts.ts'
import { formatGap, formatLength, formatUncertainty, type PeopleUnits } from '../../../core/units/lengthText.ts'
import { faultTexts } from '../../wording.ts'
import { keepOutName, partName } from '../../wording/partNames.ts'
import { counted, fineWithUnit } from '../../wording/plainWords.ts'

/** Whether the part can be offered up, in one or two sentences. */
export interface WayVerdict {
  readonly proved: boolean
  readonly text: string
}

/** Keep-outs that come off while the part is offered up, mirror images too: what the answer says, or what the bay says. */
export const comesOff = ({ bay, way }: SheetFacts): readonly string[] =>
  way.answer?.off ??
  bay.keepOuts
    .filter(({ fitting, enabled }) => fitting === 'comes-off' && enabled !== false)
    .flatMap(({ id, mirror }) => (mirror ? [id, mirrorId(id)] : [id]))

/** Plain about it: a way that was refuted, or that none was found, is no way in. */
export function wayVerdict({ bay, candidate, way }: SheetFacts, units: PeopleUnits): WayVerdict {
  const { answer, own, faults } = way
  const not = (text: string): WayVerdict => ({ proved: false, text })
  if (!answer) return not(`no way in can be judged. ${faultTexts(faults).join(' ')}`)
  const names = (part: string, keepOut: string) => `${partName(candidate, part)} to ${keepOutName(bay, keepOut)}`
  const wanted = `Wanted on the way: ${formatLength(answer.need, units)}, or a keep-out’s own clearance where that is less; uncertainty and tolerance are counted on top.`
  const moves = counted(answer.path?.moves.length ?? 0, 'move')
  if (answer.answer === 'proved')
    return {
      proved: true,
      text: `proved. It goes in with ${moves}, past all that stays, on the whole motion. ${wanted}`,
    }
  if (answer.atSeat) {
    const { part, keepOut, margin } = answer.atSeat
    const short = formatGap(margin, units, fineWithUnit(units))
    return not(
      `refuted. It is not proved to clear where it is to sit: ${names(part, keepOut)}, margin ${short}. No way in can help that.`,
    )
  }
  if (answer.answer === 'refuted') return not(`refuted. The moves that were chosen fall short on the way. ${wanted}`)
  if (answer.answer === 'closed')
    return not(`closed, proved: with what stays in the bay the part cannot come in. ${wanted}`)
  if (answer.leftOut.length > 0 && answer.path)
    return not(`not proved. There is a way past what is in the bay now, but something is left out for a look.`)
  if (own) return not(`not decided: the chosen moves are too near to what is asked. ${wanted}`)
  const { miss, stopped } = answer
  const ended = stopped === 'done' ? '' : ' The search was stopped before it was done.'
  const near = miss
    ? ` Nearest miss, as evidence and no proof: ${formatUncertainty(miss.by, units, fineWithUnit(units))} smaller on each side it would go in; it is tightest at ${names(miss.part, miss.keepOut)}.`
    : ''
  return not(`none found; that there is none is not proved.${ended}${near} ${wanted}`)
}
