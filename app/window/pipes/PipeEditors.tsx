import { useState } from 'react'
import type { Pipe } from '../../../core/bay/schema.ts'
import type { PipeBends, PipeEndName } from '../../../core/pipe/answer.ts'
import { PipeAbout, PipeElbows } from '../candidate/PipeMakeup.tsx'
import { StockButton } from '../candidate/StockDialog.tsx'
import { candidateWords } from '../candidateWords.ts'
import { Callout } from '../editors/Callouts.tsx'
import { CornerList } from '../editors/CornerList.tsx'
import { useWindow } from '../state/context.ts'
import { pipePath } from '../state/pipes.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { dOfBend, sizeOf } from './figures.ts'
import { JointEditor } from './JointEditor.tsx'
import { jointBrief } from './jointEdits.ts'
import { portName } from './names.ts'
import { TubeEditor } from './TubeEditor.tsx'

const { pipes: text } = words
type Item = 'about' | 'elbows' | 'corners' | 'tube' | PipeEndName

/** The numbers of a pipe, each opened at its own line: name and ends, corners, elbows, tube, and the joint at either end. */
export function PipeEditors({ pipe, bends }: { pipe: Pipe; bends: PipeBends | null }) {
  const [open, setOpen] = useState<ReadonlySet<Item>>(new Set())
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  // As text: a path is a new list each time it is asked for.
  const path = useWindow((state) => JSON.stringify(pipePath(state)))
  if (!bay) return null
  const of = words.part.pipeTitle(pipe.name)
  const props = (item: Item) => ({
    open: open.has(item),
    onOpen: (on: boolean) =>
      setOpen((all) => new Set(on ? [...all, item] : [...all].filter((other) => other !== item))),
  })
  const size = (mm: number) => sizeOf(mm, units)
  const { outsideDiameter, wall, bendRadius } = pipe
  return (
    <div className="pipe-editors">
      <Callout title={candidateWords.pipe.about} brief="" {...props('about')}>
        <PipeAbout pipe={pipe} />
      </Callout>
      <Callout title={text.corners.title} brief={text.corners.brief(pipe.path.length)} {...props('corners')}>
        <CornerList pipe={pipe} path={[...JSON.parse(path), 'path']} of={of} />
        <p className="callout-note">{text.corners.keys}</p>
      </Callout>
      <Callout
        title={candidateWords.elbows.title}
        brief={candidateWords.elbows.brief(pipe.elbows?.length ?? 0)}
        {...props('elbows')}
      >
        <PipeElbows pipe={pipe} />
        <StockButton />
      </Callout>
      <Callout
        title={text.tube.title}
        brief={text.tube.brief(size(outsideDiameter), size(wall), dOfBend(bendRadius, outsideDiameter))}
        {...props('tube')}
      >
        <TubeEditor pipe={pipe} path={JSON.parse(path)} bends={bends} />
        <StockButton />
      </Callout>
      {(['from', 'to'] as const).map((end) => (
        <Callout
          key={end}
          title={text.joint.title(portName(bay, pipe[end]))}
          brief={jointBrief(bay, pipe.joints?.[end])}
          {...props(end)}
        >
          <JointEditor pipe={pipe} end={end} path={JSON.parse(path)} bends={bends} />
        </Callout>
      ))}
    </div>
  )
}
