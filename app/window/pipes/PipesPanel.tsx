import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'
import type { Pipe } from '../../../core/bay/schema.ts'
import type { BendsAnswer } from '../../../core/pipe/answer.ts'
import { faultTexts } from '../../wording.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bendFaults, bendsOf, bendsStanding, pipeIn, pipesIn, shownBends } from '../state/pipes.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { BendTable } from './BendTable.tsx'
import { LossBand } from './LossBand.tsx'
import { lookAt } from './lookAt.ts'
import { portName } from './names.ts'
import { PipeEditors } from './PipeEditors.tsx'
import { Remarks } from './Remarks.tsx'
import { Routes } from './Routes.tsx'

const { pipes: text } = words

/** The pipes of the candidate, one at a time: whether it can be made, by which table, and all its numbers. */
export function PipesPanel() {
  const here = useHere()
  const pipe = useWindow(pipeIn)
  const answer = useWindow(shownBends)
  const faults = useWindow(bendFaults)
  const standing = useWindow(bendsStanding)
  const bay = useWindow(bayOf)
  if (!pipe || !bay) return null
  const bends = bendsOf(answer, pipe)
  const isUnrouted = answer?.unrouted.includes(pipe.id) ?? false
  return (
    <section className="pipes" aria-label={text.title} data-state={standing}>
      <PipeTabs answer={answer} />
      <div className="pipe-head">
        <p className="pipe-run">{text.run(portName(bay, pipe.from), portName(bay, pipe.to))}</p>
        <Standing answer={answer} pipe={pipe} />
        <Button className="small" aria-label={text.lookAt(pipe.name)} onPress={() => lookAt(here, pipe.id)}>
          {text.look}
        </Button>
      </div>
      {faults.length > 0 && (
        <div className="pipe-faults" role="alert">
          <p>{text.why}</p>
          <ul>
            {faultTexts(faults).map((said) => (
              <li key={said}>{said}</li>
            ))}
          </ul>
        </div>
      )}
      {isUnrouted && (
        <div className="pipe-unrouted">
          <p>{text.unrouted}</p>
          <p>{text.unroutedHint}</p>
        </div>
      )}
      {bends && <Remarks bends={bends} />}
      <Routes pipe={pipe} />
      {bends && <BendTable bends={bends} pipe={pipe} />}
      <PipeEditors pipe={pipe} bends={bends} />
      {bends && <LossBand bends={bends} chain={answer?.chainLoss ?? null} />}
    </section>
  )
}

/** How a pipe stands, as its mark says it. */
function markOf(answer: BendsAnswer | null, pipe: Pipe): keyof typeof text.mark {
  if (answer?.unrouted.includes(pipe.id)) return 'open'
  const bends = bendsOf(answer, pipe)
  if (!bends) return 'waiting'
  return bends.makeable ? 'good' : 'bad'
}

function PipeTabs({ answer }: { answer: BendsAnswer | null }) {
  const here = useHere()
  const pipes = useWindow(pipesIn)
  const pipe = useWindow(pipeIn)
  return (
    <ToggleButtonGroup
      aria-label={text.tabs}
      className="pipe-tabs"
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={pipe ? [pipe.id] : []}
      onSelectionChange={(keys) => {
        const chosen = String([...keys][0])
        here.room.store.setState({ pipe: chosen, reason: null, corner: null })
        lookAt(here, chosen)
      }}
    >
      {pipes.map((each) => {
        const { mark, text: meaning } = text.mark[markOf(answer, each)]
        return (
          <ToggleButton key={each.id} id={each.id} className="pipe-tab">
            <span className={`pipe-mark pipe-mark-${markOf(answer, each)}`} role="img" aria-label={meaning}>
              {mark}
            </span>
            {each.name}
          </ToggleButton>
        )
      })}
    </ToggleButtonGroup>
  )
}

/** The answer in a line, and how it stands to the bay as it is now. */
function Standing({ answer, pipe }: { answer: BendsAnswer | null; pipe: Pipe }) {
  const standing = useWindow(bendsStanding)
  const bends = bendsOf(answer, pipe)
  const mark = markOf(answer, pipe)
  const said: Record<typeof mark, ReactNode> = {
    good: text.makeable,
    bad: text.notMakeable(bends?.reasons.length ?? 0),
    open: text.mark.open.text,
    waiting: standing === 'updating' ? text.waiting : '',
  }
  return (
    <p className={`pipe-standing pipe-mark-${mark}`} role="status">
      {mark !== 'waiting' && <span aria-hidden="true">{text.mark[mark].mark} </span>}
      {said[mark]}
      {mark !== 'waiting' && standing === 'updating' && <span className="pipe-updating"> · {text.updating}</span>}
      {standing === 'stopped' && <span className="pipe-stopped"> · {text.stopped}</span>}
    </p>
  )
}
