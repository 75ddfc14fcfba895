import type { SeatAnswer } from '../../../core/seat/answer.ts'
import type { Verdict } from '../../../core/verdict/answer.ts'
import { gapGlance } from '../ledger/figures.ts'
import { useSearches, useWindow } from '../state/context.ts'
import { foundAnswer, foundStanding, judgedStanding, ownAnswer, wayFaults } from '../state/seat.ts'
import { candidateIn } from '../state/windowState.ts'
import { words } from '../words.ts'

const { stage: text } = words.seat

/** In the stage bar: how the candidate's own way in stands, or else what a search has found. */
export function SeatStageAnswer() {
  const hasOwn = useWindow((state) => candidateIn(state)?.offering !== undefined)
  const own = useWindow(ownAnswer)
  const isFaulty = useWindow((state) => wayFaults(state).length > 0)
  const standing = useWindow(judgedStanding)
  const search = useSearches(({ seat }) => seat)
  const found = useWindow((state) => foundAnswer(search, state))
  const foundIs = useWindow((state) => foundStanding(search, state))
  if (foundIs === 'working') return text.searching
  if (hasOwn) {
    if (isFaulty) return <Told verdict="short" said={text.faulty} />
    if (own) return <Answer answer={own} isOwn />
    return standing === 'stopped' ? <Told verdict="unproved" said={words.ledger.outOfDate} /> : words.stage.waiting
  }
  if (!found || foundIs === 'none' || found.answer === 'cancelled') return text.notSearched
  if (foundIs === 'outOfDate') return <Told verdict="unproved" said={words.ledger.outOfDate} />
  return <Answer answer={found} isOwn={false} />
}

function Answer({ answer, isOwn }: { answer: SeatAnswer; isOwn: boolean }) {
  const units = useWindow((state) => state.units)
  const { path, atSeat, leftOut } = answer
  if (atSeat) return <Told verdict="fouls" said={text.atSeat} />
  if (answer.answer === 'proved' && path?.least) {
    const unit = units === 'mm' ? words.field.mm : words.field.inch
    const margin = `${gapGlance(path.least.atLeast, units)} ${unit}`
    return <Told verdict="clears" said={text.proved(path.moves.length, margin)} />
  }
  if (answer.answer === 'refuted') return <Told verdict="short" said={text.refuted} />
  if (answer.answer === 'closed') return <Told verdict="fouls" said={text.closed} />
  if (leftOut.length > 0 && path) return <Told verdict="unproved" said={text.leftOut} />
  return <Told verdict="unproved" said={isOwn ? text.notDecided : text.noneFound} />
}

function Told({ verdict, said }: { verdict: Verdict; said: string }) {
  return (
    <span className={`verdict-${verdict}`}>
      <span aria-hidden="true">{words.verdict[verdict].mark}</span> {said}
    </span>
  )
}
