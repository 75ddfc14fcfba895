import { Button } from 'react-aria-components/Button'
import { isOfRun } from '../../../core/bay/part.ts'
import { axisWays, type AxisWay } from '../../../core/largest/clearingMoves.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { freshResult } from '../state/searches.ts'
import { pairKey } from '../state/pairs.ts'
import { candidateIn, candidateIndex, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { askedFull } from './figures.ts'

const { moves } = words.largest
/** As far as moves are looked for, mm. */
const reach = 200

/** For a gap that does not clear: the least move along each axis after which it does, each to be done at once. */
export function ClearingMoves({ pair }: { pair: LedgerPair }) {
  const search = useSearches(({ clearing }) => clearing)
  const result = useWindow((state) => freshResult(search, state))
  const units = useWindow((state) => state.units)
  if (pair.verdict === 'clears' || pair.between || isOfRun(pair.part)) return null
  const isThis = search.found !== null && pairKey(search.found.sought.request) === pairKey(pair)
  if (!isThis || !result) return search.running ? <p className="details-note">{moves.working}</p> : null
  const ways = axisWays.flatMap((way) => {
    const move = result[way]
    return move && move.by > 0 ? [{ way, by: move.by }] : []
  })
  if (ways.length === 0) return <p className="details-note">{moves.none(askedFull(reach, units))}</p>
  return (
    <section className="moves" aria-label={moves.title}>
      <h4>{moves.title}</h4>
      <div className="moves-ways">
        {ways
          .sort((a, b) => a.by - b.by)
          .map((move) => (
            <MoveButton key={move.way} {...move} />
          ))}
      </div>
      <p className="details-note">{moves.note}</p>
    </section>
  )
}

function MoveButton({ way, by }: { way: AxisWay; by: number }) {
  const { room } = useHere()
  const index = useWindow(candidateIndex)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const axis = 'xyz'.indexOf(way[1])
  const name = words.ways[axis][way[0] === '+' ? 1 : 0]
  const length = askedFull(by, units)
  return (
    <Button
      className="small"
      aria-label={moves.label(name, length)}
      onPress={() =>
        candidate &&
        doEdit(room.store, {
          name: 'clearing-move',
          label: moves.label(name, length),
          undo: 'step',
          apply: (bay) =>
            withField(bay, ['candidates', index, 'at', axis], candidate.at[axis] + (way[0] === '+' ? by : -by)),
        })
      }
    >
      {moves.one(name, length)}
    </Button>
  )
}
