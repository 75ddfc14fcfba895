import { useEffect, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Checkbox } from 'react-aria-components/Checkbox'
import type { Pipe } from '../../../core/bay/schema.ts'
import { bendingOf } from '../../../core/pipe/makeable.ts'
import type { RouteAllAnswer } from '../../../core/pipe/route/answer.ts'
import { faultTexts } from '../../wording.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { pipesIn } from '../state/pipes.ts'
import { routesOf, routeStanding } from '../state/routes.ts'
import type { SearchState } from '../state/searches.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { adoptBest } from './adoptRoute.ts'
import { lengthOf } from './figures.ts'
import { RouteList } from './RouteList.tsx'

const { routes: text } = words.pipes

/** Routes for the pipe, found when asked: how far the search is, what it found, and what is proved beside it. */
export function Routes({ pipe }: { pipe: Pipe }) {
  const { room } = useHere()
  const search = useSearches(({ route }) => route)
  const pipes = useWindow(pipesIn)
  const standing = useWindow((state) => routeStanding(search, state, pipe.id))
  useEffect(() => () => void room.ghost(null), [room])
  const radii = useWindow((state) => {
    const bay = bayOf(state)
    return bay ? (bendingOf(bay, pipe, null).tool?.radii.length ?? 0) : 0
  })
  const [anyRadius, setAnyRadius] = useState(false)
  const seek = (ids: readonly string[]) =>
    room.searches.seek('route', { pipes: ids, ...(anyRadius && { radii: 'all' as const }) })
  const outcome = search.found?.outcome
  const isShown = standing === 'fresh' || standing === 'outOfDate'
  const answer = isShown ? routesOf(search, pipe.id) : null
  return (
    <section className="routes" aria-label={text.title} data-state={standing}>
      <header className="pipe-part-head">
        <h3>{text.title}</h3>
        {standing === 'outOfDate' && <span className="routes-old">{text.outOfDate}</span>}
      </header>
      {search.running ? (
        <Working running={search.running} />
      ) : (
        <div className="routes-ask">
          <Button className="plain" onPress={() => seek([pipe.id])}>
            {answer ? text.again : text.find}
          </Button>
          {pipes.length > 1 && (
            <Button className="plain" aria-label={text.findAllHint} onPress={() => seek(pipes.map(({ id }) => id))}>
              {text.findAll}
            </Button>
          )}
          {radii > 1 && (
            <Checkbox className="check" isSelected={anyRadius} onChange={setAnyRadius}>
              <span className="check-box" aria-hidden="true" />
              {text.anyRadius}
            </Checkbox>
          )}
        </div>
      )}
      {isShown && outcome?.ok === false && (
        <div className="pipe-faults" role="alert">
          {faultTexts(outcome.faults).map((said) => (
            <p key={said}>{said}</p>
          ))}
        </div>
      )}
      {answer && (
        <RouteList
          answer={answer}
          pipe={pipe}
          radii={search.found?.sought.request.radii}
          isOld={standing === 'outOfDate'}
        />
      )}
      {answer && outcome?.ok && outcome.value.pipes.length > 1 && (
        <AllPipes all={outcome.value} isOld={standing === 'outOfDate'} />
      )}
    </section>
  )
}

/** What is known while the search goes on, and the way to end it with that. */
function Working({ running }: { running: NonNullable<SearchState['route']['running']> }) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const pipes = useWindow(pipesIn)
  const last = running.trace.at(-1)
  const names = running.sought.request.pipes.map((id) => pipes.find((pipe) => pipe.id === id)?.name ?? id)
  return (
    <div className="routes-working">
      <span className="progress routes-progress" aria-hidden="true">
        <span className="progress-bar" />
      </span>
      <p>
        <span role="status">{text.searching(names.join(', '))}</span>
        {last && (
          <span className="routes-best">
            {' '}
            · {text.best(lengthOf(last.value, units), last.bound > 0 ? lengthOf(last.bound, units) : null)}
          </span>
        )}
      </p>
      <Button className="small" aria-label={text.cancelHint} onPress={() => room.searches.cancel('route')}>
        {text.cancel}
      </Button>
    </div>
  )
}

/** Where several pipes were routed: in which order, and all their best routes at once. */
function AllPipes({ all, isOld }: { all: RouteAllAnswer; isOld: boolean }) {
  const { room } = useHere()
  const pipes = useWindow(pipesIn)
  const name = (id: string) => pipes.find((pipe) => pipe.id === id)?.name ?? id
  const found = all.pipes.filter(({ answer }) => answer.routes.length > 0)
  return (
    <div className="routes-all">
      <p className="pipe-small">{text.order(all.order.map(name).join(', '))}</p>
      {found.length > 1 && (
        <Button className="plain" isDisabled={isOld} onPress={() => adoptBest(room.store, all)}>
          {text.adoptBest}
        </Button>
      )}
    </div>
  )
}
