import { Button } from 'react-aria-components/Button'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'
import type { Candidate } from '../../../core/bay/schema.ts'
import type { LeastOnTheWay, SeatAnswer } from '../../../core/seat/answer.ts'
import { faultTexts } from '../../wording.ts'
import { keepOutName, partName } from '../ledger/names.ts'
import { Explained } from '../explain/Explained.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { judgedStanding, ownAnswer, type Way, wayFaults } from '../state/seat.ts'
import { bayOf, candidateIn, type WayKind } from '../state/windowState.ts'
import { words } from '../words.ts'
import { leastOf, mostOf } from './figures.ts'
import { adoptWay, endAtSeat, isOwn } from './offeringEdits.ts'

const { ways: text, own, least: leastWords } = words.seat

interface Props {
  readonly ways: readonly Way[]
  readonly shown: Way
  readonly candidate: Candidate
}

/** Which of the ways in is looked at, what is proved of it, and whether it becomes the candidate's own. */
export function WayChoice({ ways, shown, candidate }: Props) {
  const { room } = useHere()
  return (
    <section className="seat-ways" aria-label={text.title}>
      <ToggleButtonGroup
        aria-label={text.title}
        className="pipe-tabs"
        selectionMode="single"
        disallowEmptySelection
        selectedKeys={[shown.kind]}
        onSelectionChange={(keys) => room.store.setState({ way: [...keys][0] as WayKind })}
      >
        {ways.map(({ kind }) => (
          <ToggleButton key={kind} id={kind} className="pipe-tab">
            {text[kind]}
          </ToggleButton>
        ))}
      </ToggleButtonGroup>
      <div className="seat-way">
        {shown.kind === 'own' && <OwnStanding />}
        {shown.isOld && <p className="routes-old">{text.isOld}</p>}
        {shown.least && <Least least={shown.least} />}
        {shown.kind !== 'own' &&
          (isOwn(candidate, shown.path) ? (
            <p className="route-now seat-same">{text.same}</p>
          ) : (
            <Button
              className="plain"
              isDisabled={shown.isOld}
              aria-label={`${text.adopt}. ${text.adoptHint}`}
              onPress={() => adoptWay(room.store, shown.path)}
            >
              {text.adopt}
            </Button>
          ))}
      </div>
    </section>
  )
}

/** Whether the candidate's own moves are proved or refuted, as the bay is now. */
function OwnStanding() {
  const { room } = useHere()
  const answer = useWindow(ownAnswer)
  const standing = useWindow(judgedStanding)
  const faults = useWindow(wayFaults)
  if (faults.length > 0)
    return (
      <div className="pipe-faults" role="alert">
        <p>{own.faulty}</p>
        <ul>
          {faultTexts(faults).map((said) => (
            <li key={said}>{said}</li>
          ))}
        </ul>
        {faults.some(({ code }) => code === 'moves-miss-seat') && (
          <Button className="plain" onPress={() => endAtSeat(room.store)}>
            {own.endAtSeat}
          </Button>
        )}
      </div>
    )
  const [verdict, said] = answer ? ownSaid(answer) : ['waiting', standing === 'stopped' ? own.stopped : own.updating]
  return (
    <p className={`pipe-standing seat-own verdict-${verdict}`} role="status" data-state={standing}>
      {verdict in words.verdict && (
        <span aria-hidden="true">{words.verdict[verdict as keyof typeof words.verdict].mark} </span>
      )}
      {said}
    </p>
  )
}

function ownSaid({ answer, atSeat, leftOut }: SeatAnswer): readonly [string, string] {
  if (atSeat) return ['fouls', own.atSeat]
  if (answer === 'proved') return ['clears', own.proved]
  if (answer === 'refuted') return ['short', own.refuted]
  return ['unproved', leftOut.length > 0 ? own.leftOut : own.notDecided]
}

function Least({ least }: { least: LeastOnTheWay }) {
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const { atLeast, atMost, move, share, part, keepOut } = least
  return (
    <p className="seat-least">
      <b>
        <Explained name="seatLeast">{leastWords.margin(leastOf(atLeast, units), mostOf(atMost, units))}</Explained>
      </b>
      , {leastWords.where(move + 1, Math.round(100 * share), partName(candidate, part), keepOutName(bay, keepOut))}
    </p>
  )
}
