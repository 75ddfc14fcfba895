import { useEffect, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import type { Bay, Pipe } from '../../../core/bay/schema.ts'
import type { Route, RouteAnswer, RouteRequest } from '../../../core/pipe/route/answer.ts'
import { withRoute } from '../../../core/pipe/route/withRoute.ts'
import {
  cheapestText,
  closedText,
  fewestBendsText,
  lengthText,
  minimisedText,
  noneText,
  obstacleName,
  passageText,
  passesText,
} from '../../wording/routeWords.ts'
import { gapFull } from '../ledger/figures.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { adoptRoute, isTaken } from './adoptRoute.ts'
import { dOfBend, lengthOf, sizeOf } from './figures.ts'
import { tellingFirst } from './telling.ts'

const { routes: text } = words.pipes

interface Props {
  readonly answer: RouteAnswer
  readonly pipe: Pipe
  /** Which radii of the bender were tried. */
  readonly radii: RouteRequest['radii']
  /** The bay has changed since: routes are still there to look at, and not to be adopted. */
  readonly isOld: boolean
}

/** The routes found, best first, each to be looked at as a ghost and adopted; and what is proved. */
export function RouteList({ answer, pipe, radii, isOld }: Props) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const candidate = useWindow((state) => state.candidate)
  const units = useWindow((state) => state.units)
  const [pointed, setPointed] = useState<number | null>(null)
  const [pinned, setPinned] = useState<number | null>(null)
  const shown = pointed ?? pinned
  const route = shown === null ? undefined : answer.routes[shown]
  useEffect(() => {
    const isGhost = route && bay && candidate !== null && !isTaken(pipe, route)
    void room.ghost(isGhost ? { bay: withRoute(bay, candidate, pipe.id, route), candidate, pipe: pipe.id } : null)
  }, [room, route, bay, candidate, pipe])
  // Another answer has other routes.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the answer is the signal
  useEffect(() => {
    setPinned(null)
    setPointed(null)
  }, [answer])
  if (!bay || candidate === null) return null
  return (
    <div className={isOld ? 'routes-found routes-found-old' : 'routes-found'}>
      <Outcome answer={answer} bay={bay} candidate={candidate} />
      <ol className="route-list" aria-label={text.list(pipe.name)}>
        {answer.routes.map((each, i) => (
          <RouteRow
            key={each.path.join()}
            route={each}
            routes={answer.routes}
            number={i + 1}
            pipe={pipe}
            isOld={isOld}
            isPinned={pinned === i}
            onPoint={(on) => setPointed(on ? i : null)}
            onPin={(on) => setPinned(on ? i : null)}
          />
        ))}
      </ol>
      <details className="routes-proved">
        <summary>{text.proved}</summary>
        <ul>
          {[
            fewestBendsText(answer.proved, answer.routes[0], radii),
            lengthText(answer.proved, answer.routes[0], units),
            passageText(bay, candidate, answer.proved, units),
          ]
            .filter((said) => said !== null)
            .map((said) => (
              <li key={said}>{said}</li>
            ))}
        </ul>
        <p>{text.minimised(minimisedText(answer, units))}</p>
      </details>
    </div>
  )
}

/** The answer in a sentence that says no more than is known. */
function Outcome({ answer, bay, candidate }: { answer: RouteAnswer; bay: Bay; candidate: string }) {
  const units = useWindow((state) => state.units)
  const said = () => {
    if (answer.answer === 'closed') return closedText(bay, candidate, answer, units)
    if (answer.routes.length === 0) return noneText(answer, units)
    return cheapestText(answer, units)
  }
  return (
    <p className={`routes-outcome routes-outcome-${answer.answer.replace(' ', '-')}`} role="status">
      {answer.stopped === 'cancelled' && answer.routes.length > 0 && `${text.cancelled} `}
      {said()}
    </p>
  )
}

/** So many things passed tell a route from the others; kept in sight, it tells them all. */
const mostTold = 3

interface RowProps {
  readonly route: Route
  readonly routes: readonly Route[]
  readonly number: number
  readonly pipe: Pipe
  readonly isOld: boolean
  readonly isPinned: boolean
  readonly onPoint: (on: boolean) => void
  readonly onPin: (on: boolean) => void
}

function RouteRow({ route, routes, number, pipe, isOld, isPinned, onPoint, onPin }: RowProps) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const candidate = useWindow((state) => state.candidate) ?? ''
  const units = useWindow((state) => state.units)
  if (!bay) return null
  const { bends, length, least, bendRadius } = route
  const isNow = isTaken(pipe, route)
  const passes = tellingFirst(route, routes)
  const told = isPinned ? passes : passes.slice(0, mostTold)
  const radius =
    bendRadius === pipe.bendRadius
      ? ''
      : ` · ${sizeOf(bendRadius, units)} (${dOfBend(bendRadius, pipe.outsideDiameter)})`
  return (
    // The row only passes on that it is pointed at; all that can be done is in its buttons.
    <li
      className={`route ${isPinned ? 'route-pinned' : ''}`}
      onPointerEnter={() => onPoint(true)}
      onPointerLeave={() => onPoint(false)}
      onFocus={() => onPoint(true)}
      onBlur={() => onPoint(false)}
    >
      <span className="route-number" aria-hidden="true">
        {number}
      </span>
      <div className="route-told">
        <p className="route-figures">
          {text.bends(bends)} · {lengthOf(length, units)}
          {radius}
        </p>
        <p className="route-margin">
          {text.margin(gapFull(least.margin, units), obstacleName(bay, candidate, least.keepOut))}
        </p>
        <p className="route-passes">
          {text.passes(passesText(bay, candidate, { passes: told }, units), passes.length - told.length)}
        </p>
      </div>
      <div className="route-tools">
        <ToggleButton className="small tool" isSelected={isPinned} onChange={onPin} aria-label={text.showOne(number)}>
          {text.show}
        </ToggleButton>
        {isNow ? (
          <span className="route-now">{text.now}</span>
        ) : (
          <Button
            className="small"
            isDisabled={isOld}
            aria-label={text.adoptOne(number)}
            onPress={() => adoptRoute(room.store, pipe, route, number)}
          >
            {text.adopt}
          </Button>
        )}
      </div>
    </li>
  )
}
