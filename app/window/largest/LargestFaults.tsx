import type { Fault } from '../../../core/fault.ts'
import { faultTexts } from '../../wording.ts'
import { useSearches, useWindow } from '../state/context.ts'
import { standingOf } from '../state/searches.ts'
import { words } from '../words.ts'

const none: readonly Fault[] = []

/** Why there is no largest core of the candidate as it is: limits that contradict or leave a way open. */
export function LargestFaults() {
  const search = useSearches(({ largest }) => largest)
  const isFresh = useWindow((state) => standingOf(search, state) === 'fresh')
  const faults = search.found?.outcome.ok === false ? search.found.outcome.faults : none
  if (!isFresh || faults.length === 0) return null
  return (
    <div className="largest-faults" role="alert">
      <p>{words.largest.whyNot}</p>
      <ul>
        {faultTexts(faults).map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </div>
  )
}
