import type { LedgerPair, Verdict } from '../../../core/verdict/answer.ts'
import { words } from '../words.ts'

export const verdicts: readonly Verdict[] = ['fouls', 'short', 'unproved', 'clears']

export const countOf = (pairs: readonly LedgerPair[], verdict: Verdict): number =>
  pairs.filter((pair) => pair.verdict === verdict).length

/** How many gaps there are of each verdict, with mark and word. */
export function VerdictCounts({ pairs }: { pairs: readonly LedgerPair[] }) {
  return (
    <ul className="counts">
      {verdicts.map((verdict) => {
        const n = countOf(pairs, verdict)
        return (
          <li
            key={verdict}
            className={`count verdict-${verdict} ${n === 0 ? 'count-none' : ''}`}
            title={words.verdict[verdict].meaning}
          >
            <Mark verdict={verdict} /> <b>{n}</b> {words.verdict[verdict].many}
          </li>
        )
      })}
    </ul>
  )
}

/** The mark that always goes with a verdict's colour. */
export function Mark({ verdict }: { verdict: Verdict }) {
  return (
    <span className={`mark mark-${verdict}`} aria-hidden="true">
      {words.verdict[verdict].mark}
    </span>
  )
}
