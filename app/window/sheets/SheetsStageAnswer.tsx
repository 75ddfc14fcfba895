import { Mark } from '../ledger/VerdictCounts.tsx'
import { useSearches } from '../state/context.ts'
import { words } from '../words.ts'
import { useSheetsStanding } from './useSheetsStanding.ts'

const { stage: text } = words.sheets

/** In the stage bar: how many pages there are, and what they say of the candidate; or how the making of them stands. */
export function SheetsStageAnswer() {
  const standing = useSheetsStanding()
  const found = useSearches(({ sheets }) => sheets.found)
  const set = found?.outcome.ok ? found.outcome.value : null
  if (standing === 'outOfDate' || (standing === 'waits' && set))
    return (
      <span className="verdict-unproved">
        <Mark verdict="unproved" /> {words.ledger.outOfDate}
      </span>
    )
  if (standing !== 'fresh' || !set) return text[standing === 'fresh' ? 'none' : standing]
  return (
    <span className={`verdict-${set.verdict}`}>
      <Mark verdict={set.verdict} /> {text.pages(set.pages, text.verdict[set.verdict])}
    </span>
  )
}
