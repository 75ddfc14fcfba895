import type { Hold, LargestAnswer } from '../../../core/largest/largest.ts'
import { keepOutIdOf, keepOutName, partName } from '../ledger/names.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { knowsHolds } from '../state/searches.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { words } from '../words.ts'
import { buysText } from './figures.ts'
import { HoldList, type HoldRow } from './HoldList.tsx'

/** What holds the largest core, the most worthwhile first, and what a little more room there would buy. */
export function LargestHolds({ answer }: { answer: LargestAnswer }) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const known = useSearches(({ largest }) => knowsHolds(largest))
  const working = useSearches(({ largest }) => largest.running?.sought.request.holds === true)
  const text = words.largest
  if (!known) return working ? <p className="largest-waiting">{text.holdsWorking}</p> : null
  const rowOf = (hold: Hold): HoldRow => {
    if ('limit' in hold) {
      const openLimits = () => room.store.setState({ openItem: { side: 'part', key: 'limits' } })
      return {
        key: hold.limit,
        title: text.limit(hold.limit),
        brief: buysText(hold, null, units),
        lights: [],
        onPress: openLimits,
      }
    }
    const role = bay?.keepOuts.find(({ id }) => id === keepOutIdOf(bay, hold.keepOut))?.role ?? null
    return {
      key: `${hold.keepOut} ${hold.part}`,
      title: text.hold(keepOutName(bay, hold.keepOut), text.side[hold.side], partName(candidate, hold.part)),
      brief: buysText(hold, role, units),
      lights: [`keepOut ${hold.keepOut}`, `part ${hold.part}`],
    }
  }
  return (
    <>
      <h4>{text.holds}</h4>
      {answer.holds.length === 0 ? (
        <p>{text.noHolds}</p>
      ) : (
        <HoldList label={text.holds} rows={answer.holds.map(rowOf)} />
      )}
    </>
  )
}
