import { Component, lazy, type ReactNode, Suspense } from 'react'
import { Button } from 'react-aria-components/Button'
import { CandidateTabs } from '../stages/CandidateTabs.tsx'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { troublesNow } from '../state/windowState.ts'
import { faultTexts } from '../../wording.ts'
import { Mark } from '../ledger/VerdictCounts.tsx'
import { words } from '../words.ts'
import { PageTools } from './PageTools.tsx'
import { useSheetsShare, useSheetsStanding } from './useSheetsStanding.ts'

const { standing: text } = words.sheets

/** Reader and writer of PDFs are large, and wanted on this stage only. */
const Preview = lazy(() => import('./Preview.tsx'))

/** In place of the drawing: the pages as they will be printed, and how they stand to the bay as it is. */
export function SheetsPaper() {
  const standing = useSheetsStanding()
  const found = useSearches(({ sheets }) => sheets.found)
  const set = found?.outcome.ok ? found.outcome.value : null
  const isOld = set !== null && standing !== 'fresh'
  return (
    <section className={`paper-desk ${isOld ? 'paper-desk-old' : ''}`} aria-label={words.sheets.preview}>
      <div className="paper-bar">
        <CandidateTabs />
        <PageTools />
      </div>
      <Standing hasPages={set !== null} />
      {set && (
        <Unbroken>
          <Suspense fallback={<p className="paper-said">{text.loading}</p>}>
            <Preview set={set} />
          </Suspense>
        </Unbroken>
      )}
    </section>
  )
}

/** What is under way or in the way, with what can be done about it; nothing where the pages are those of the bay. */
function Standing({ hasPages }: { hasPages: boolean }) {
  const { room } = useHere()
  const standing = useSheetsStanding()
  const share = useSheetsShare()
  if (standing === 'fresh' || standing === 'none') return null
  const isWorking = standing === 'working'
  return (
    <div className={`paper-standing ${hasPages ? 'paper-standing-old' : ''}`} data-standing={standing}>
      <div role="status">
        {hasPages && <Mark verdict="unproved" />} <Said hasPages={hasPages} />
      </div>
      {isWorking && <progress max={100} value={share ?? undefined} aria-label={text.working(share)} />}
      {isWorking && (
        <Button className="small" aria-label={text.cancelHint} onPress={() => room.sheets.cancel()}>
          {text.cancel}
        </Button>
      )}
      {(standing === 'cancelled' || standing === 'failed') && (
        <Button className="plain" onPress={() => room.sheets.make()}>
          {standing === 'failed' ? text.again : text.make}
        </Button>
      )}
    </div>
  )
}

function Said({ hasPages }: { hasPages: boolean }) {
  const standing = useSheetsStanding()
  const share = useSheetsShare()
  const found = useSearches(({ sheets }) => sheets.found)
  const troubles = useWindow(troublesNow)
  if (standing === 'working') return hasPages ? text.outOfDate(share) : text.working(share)
  if (standing === 'cancelled') return hasPages ? text.cancelledOld : text.cancelled
  if (standing === 'waits') return <Reasons title={text.waits} lines={faultTexts(troubles)} />
  if (standing === 'failed' && found?.outcome.ok === false)
    return <Reasons title={text.failed} lines={faultTexts(found.outcome.faults)} />
  return text.isOld
}

function Reasons({ title, lines }: { title: string; lines: readonly string[] }) {
  return (
    <>
      <b>{title}</b>
      {lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
    </>
  )
}

/** Pages that cannot be drawn take nothing else with them. */
class Unbroken extends Component<{ children: ReactNode }, { broke: boolean }> {
  override state = { broke: false }
  static getDerivedStateFromError() {
    return { broke: true }
  }
  override render() {
    return this.state.broke ? <p className="paper-said">{text.notShown}</p> : this.props.children
  }
}
