import { LargestPanel } from '../largest/LargestPanel.tsx'
import { MeasurePanel } from '../measure/MeasurePanel.tsx'
import { PipesPanel } from '../pipes/PipesPanel.tsx'
import { SeatPanel } from '../seat/SeatPanel.tsx'
import { SheetsPanel } from '../sheets/SheetsPanel.tsx'
import { useWindow } from '../state/context.ts'
import { candidateIn, type Stage } from '../state/windowState.ts'
import { words } from '../words.ts'
import { CandidateCallouts } from './CandidateCallouts.tsx'

/** What is measured, or what is proposed, item by item beside the drawing; the gaps need no sheet but the ledger. */
export function SideSheet({ stage }: { stage: Exclude<Stage, 'gaps'> }) {
  const candidate = useWindow(candidateIn)
  const measure = stage === 'measure'
  return (
    <div className={`side-sheet side-sheet-${stage}`}>
      <header className="side-head">
        <h2>{measure ? words.keepOut.list : (candidate?.name ?? words.candidates.group)}</h2>
        <span>{measure ? words.keepOut.listNote : ''}</span>
      </header>
      {stage === 'core' && candidate?.note && <p className="side-note">{candidate.note}</p>}
      {stage === 'core' && <LargestPanel />}
      {measure && <MeasurePanel />}
      {stage === 'core' && <CandidateCallouts />}
      {stage === 'pipes' && <PipesPanel />}
      {stage === 'seat' && <SeatPanel />}
      {stage === 'sheets' && <SheetsPanel />}
    </div>
  )
}
