import type { LargestAnswer } from '../../core/largest/largest.ts'
import type { SeatedAnswer, SeatedCore } from '../../core/seat/seated.ts'
import { formatLength } from '../../core/units/lengthText.ts'
import { amountText, shareText } from '../wording/amounts.ts'
import { verdictColour, verdictMark } from './colour.ts'
import { type Fact, factsText } from './facts.ts'
import type { Io } from './io.ts'
import { assembled, factsOf, headed, type LargestTelling, nothingHead, pipeNotes, sizeText } from './largestText.ts'
import { pathText } from './seatText.ts'
import { wrapped } from './table.ts'
import { listed } from '../wording/plainWords.ts'

export interface SeatedTelling extends LargestTelling {
  /** Wanted on the way, mm. */
  readonly need: number
}

/** The core of an answer as `largest` tells its own: the bound is the seat's, which holds for every way in. */
export function asLargest({ candidate, value }: SeatedCore, { atSeat, within, stopped }: SeatedAnswer): LargestAnswer {
  const { depth, width, height } = candidate.core
  return {
    answer: 'found',
    core: { depth, width, height },
    at: [...candidate.at],
    turn: [...candidate.turn],
    value,
    upperBound: Math.max(value, atSeat.upperBound),
    within,
    stopped,
    holds: [],
    candidate,
  }
}

/** For people: the largest core found that also comes in, its way, what is proved of it, and what is not. */
export function seatedText(telling: SeatedTelling, answer: SeatedAnswer, io: Io): string {
  const { best, atSeat } = answer
  const columns = Math.min(io.columns ?? 100, 100)
  if (!best) {
    if (atSeat.answer !== 'found') return assembled(telling, io, [nothingHead(telling, atSeat, io)])
    return assembled(telling, io, [noneHead(telling, answer, io), factsText(standingFacts(telling, answer), columns)])
  }
  return assembled(telling, io, [
    foundHead(telling, answer, io),
    factsText(factsOf(telling, asLargest(best, answer)), io.columns),
    pathText(
      'Moves, in the order of offering up:',
      best.path,
      best.path.least,
      {
        candidate: best.candidate,
        units: telling.units,
      },
      columns,
    ),
    factsText([...boundFacts(telling, answer), ...standingFacts(telling, answer)], columns),
    ...pipeNotes(telling, best.candidate).map((note) => wrapped(note, io.columns)),
  ])
}

function foundHead({ leftOut }: LargestTelling, { stopped, best, atSeat }: SeatedAnswer, io: Io): string {
  const { unproved, clears } = verdictMark
  if (leftOut.length > 0)
    return headed(
      `${unproved} unproved`,
      verdictColour.unproved,
      '. The largest core found that can also be offered up, but something was left out, so nothing better can be said.',
      io,
    )
  const more = best ? atSeat.upperBound / best.value - 1 : 0
  const proved =
    stopped === 'proved'
      ? `The largest core, and it can be offered up: proved within ${shareText(more)} of the best possible.`
      : 'The largest core found that can also be offered up. It clears, and its way in is proved; that there is no larger one is not.'
  const cut = stopped === 'time' || stopped === 'cancelled' ? ` ${stoppedText[stopped]}` : ''
  return headed(`${clears} clears`, verdictColour.clears, `. ${proved}${cut}`, io)
}

const stoppedText = {
  time: 'The search was stopped by the clock.',
  cancelled: 'The search was stopped by you.',
} as const

function noneHead(_: LargestTelling, { stopped }: SeatedAnswer, io: Io): string {
  const cut = stopped === 'time' || stopped === 'cancelled' ? ` ${stoppedText[stopped]}` : ''
  return headed(
    `${verdictMark.unproved} none found`,
    verdictColour.unproved,
    `. Cores clear at the seat, but for none that was tried was a way in found. That there is none is not proved.${cut}`,
    io,
  )
}

/** What is proved of the seat, what of the way, and what lies between. */
function boundFacts(
  { aim, units }: LargestTelling,
  { best, upperBoundPath, notCounted, stopped, atSeat }: SeatedAnswer,
): Fact[] {
  const byWay =
    upperBoundPath !== null
      ? `no core that comes in by these same moves has more than ${amountText(upperBoundPath, aim, units, 'up')}, wherever its seat within the limits`
      : 'not bounded: a larger core that comes in by these same moves is not excluded'
  const facts: Fact[] = [['for this way', byWay]]
  if (upperBoundPath !== null && notCounted.length > 0)
    facts.push(['not counted', `${listed(notCounted)}, in the bound for this way; it holds all the same`])
  if (stopped !== 'proved' && best)
    facts.push([
      'not proved',
      `whether another way lets in more than ${amountText(best.value, aim, units, 'down')}, up to the ${amountText(atSeat.upperBound, aim, units, 'up')} of the seat`,
    ])
  return facts
}

function standingFacts({ bay, need, aim, units }: SeatedTelling, { best, atSeat }: SeatedAnswer): Fact[] {
  const off = bay.keepOuts.filter(({ fitting, enabled }) => fitting === 'comes-off' && enabled !== false)
  const facts: Fact[] = []
  if (atSeat.answer === 'found' && atSeat.value > (best?.value ?? 0) * (1 + 1e-9))
    facts.push([
      'seat alone',
      `${sizeText(atSeat.core, units)}, ${amountText(atSeat.value, aim, units, 'down')}, clears, but no way in was found for it`,
    ])
  facts.push([
    'wanted',
    `${formatLength(need, units)} on the way, or a keep-out’s own clearance where that is less; uncertainty and tolerance on top`,
  ])
  if (off.length > 0) facts.push(['off for it', listed(off.map(({ id }) => id))])
  return facts
}
