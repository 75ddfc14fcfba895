import { Button } from 'react-aria-components/Button'
import type { DepthRow } from '../../../core/largest/largest.ts'
import { faultTexts } from '../../wording.ts'
import { fieldText } from '../editors/quantity.ts'
import { Explained } from '../explain/Explained.tsx'
import { keepOutName } from '../ledger/names.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { standingOf } from '../state/searches.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { adopt } from './adopt.ts'
import { faceText, faceUnit, foundLitres } from './figures.ts'

const { table } = words.largest

/** On demand: for every stock depth the largest face, its volume and what holds it. */
export function DepthTable() {
  const { room } = useHere()
  const search = useSearches(({ depths }) => depths)
  const standing = useWindow((state) => standingOf(search, state))
  const units = useWindow((state) => state.units)
  const outcome = search.found?.outcome
  const ask = () => room.searches.seek('depths', {})
  if (standing === 'none')
    return (
      <Button className="small" onPress={ask}>
        {table.ask}
      </Button>
    )
  return (
    <div className={`depths depths-${standing}`}>
      <div className="depths-head">
        <h4>{table.title}</h4>
        {standing === 'working' && (
          <>
            <span role="status">{words.largest.working}</span>
            <Button className="small" onPress={() => room.searches.cancel('depths')}>
              {words.largest.cancel}
            </Button>
          </>
        )}
        {standing === 'outOfDate' && (
          <>
            <span role="status">{words.largest.outOfDate}</span>
            <Button className="small" aria-label={table.again} onPress={ask}>
              {words.ledger.again}
            </Button>
          </>
        )}
      </div>
      {outcome?.ok === false && faultTexts(outcome.faults).map((text) => <p key={text}>{text}</p>)}
      {outcome?.ok && (
        <table aria-label={table.title}>
          <thead>
            <tr>
              <th scope="col">{table.depth}</th>
              <th scope="col">
                <Explained name="depthFace">{table.face(faceUnit(units))}</Explained>
              </th>
              <th scope="col">
                <Explained name="depthVolume">{table.litres}</Explained>
              </th>
              <th scope="col">{table.holds}</th>
              <td />
            </tr>
          </thead>
          <tbody>
            {outcome.value.map((row) => (
              <Row key={row.depth} row={row} canAdopt={standing === 'fresh'} />
            ))}
          </tbody>
        </table>
      )}
    </div>
  )
}

/** More than this says little at a glance. */
const mostHolds = 2

function Row({ row: { depth, face, volume, answer }, canAdopt }: { row: DepthRow; canAdopt: boolean }) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const bay = useWindow(bayOf)
  const text = `${fieldText(depth, 'length', units)}${units === 'inch' ? ` ${words.field.inch}` : ''}`
  if (answer.answer !== 'found')
    return (
      <tr>
        <th scope="row">{text}</th>
        <td colSpan={3} className="depths-none">
          {answer.answer === 'nothing fits' ? table.none : table.stopped}
        </td>
        <td />
      </tr>
    )
  const holds = answer.holds
    .slice(0, mostHolds)
    .map((hold) => ('limit' in hold ? words.largest.limitShort(hold.limit) : keepOutName(bay, hold.keepOut)))
  return (
    <tr>
      <th scope="row">{text}</th>
      <td data-explains="depthFace">{faceText(face, units)}</td>
      <td data-explains="depthVolume">{foundLitres(volume)}</td>
      <td className="depths-holds">{holds.length > 0 ? holds.join('; ') : table.byLimits}</td>
      <td>
        <Button
          className="small"
          aria-label={words.largest.adoptDepth(text)}
          isDisabled={!canAdopt}
          onPress={() => adopt(room.store, answer, text)}
        >
          +
        </Button>
      </td>
    </tr>
  )
}
