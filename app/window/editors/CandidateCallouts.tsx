import type { ReactNode } from 'react'
import type { Candidate } from '../../../core/bay/schema.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { useHere, useWindow } from '../state/context.ts'
import { candidateIn, candidateIndex } from '../state/windowState.ts'
import { words } from '../words.ts'
import { areFirstLimits, withCandidate } from '../candidate/candidateEdits.ts'
import { WordsField } from './WordsField.tsx'
import { CandidatePipes } from '../candidate/CandidatePipes.tsx'
import { MissingTanks, TankEditor } from '../candidate/TankEditor.tsx'
import { candidateWords } from '../candidateWords.ts'
import { BestPlace } from '../largest/BestPlace.tsx'
import { LargestFaults } from '../largest/LargestFaults.tsx'
import { litresText } from './litres.ts'
import { Callout } from './Callouts.tsx'
import { FigureGroups } from './FigureGroups.tsx'
import { LimitSwitches } from './LimitSwitches.tsx'
import { fieldText } from './quantity.ts'
import { coreGroups, itemOfPart, itemsOf, limitGroups, placeGroups } from './specs.ts'
import { StockButtons } from './StockButtons.tsx'

/** Every number of the candidate, each at the part that it belongs to; its pipes have a stage of their own. */
export function CandidateCallouts() {
  const { room } = useHere()
  const candidate = useWindow(candidateIn)
  const index = useWindow(candidateIndex)
  const units = useWindow((state) => state.units)
  const openItem = useWindow((state) => state.openItem)
  if (!candidate) return <p className="callouts-none">{words.part.noCandidate}</p>
  const open = openItem?.side === 'part' ? itemOfPart(openItem.key) : null
  return (
    <section className="callouts" aria-label={words.part.list}>
      <MissingTanks candidate={candidate} index={index} />
      {itemsOf(candidate).map((item) => {
        const { title, brief, editor } = itemView(item, candidate, index, units)
        return (
          <Callout
            key={`${candidate.id} ${item}`}
            title={title}
            brief={brief}
            open={item === open}
            onOpen={(on) => room.store.setState({ openItem: on ? { side: 'part', key: item } : null })}
          >
            {editor}
          </Callout>
        )
      })}
    </section>
  )
}

interface ItemView {
  readonly title: string
  readonly brief: string
  readonly editor: ReactNode
}

function itemView(item: string, candidate: Candidate, index: number, units: PeopleUnits): ItemView {
  const figure = (mm: number) => fieldText(mm, 'length', units)
  const { core } = candidate
  switch (item) {
    case 'place':
      return {
        title: words.part.place,
        brief: candidate.at.map(figure).join(', '),
        editor: (
          <>
            <WordsField
              label={candidateWords.candidate.name}
              of={candidate.name}
              value={candidate.name}
              apply={(bay, name) => withCandidate(bay, index, (before) => ({ ...before, name }))}
            />
            <FigureGroups groups={placeGroups(index)} />
            <BestPlace candidate={candidate} index={index} />
          </>
        ),
      }
    case 'core':
      return {
        title: words.part.core,
        brief: `${figure(core.depth)} × ${figure(core.width)} × ${figure(core.height)}, ${litresText(core)} L`,
        editor: <FigureGroups groups={coreGroups(index)} />,
      }
    case 'pipes':
      return {
        title: candidateWords.pipe.title,
        brief: candidateWords.pipe.brief(candidate.pipes?.length ?? 0),
        editor: <CandidatePipes candidate={candidate} index={index} />,
      }
    case 'limits':
      return {
        title: words.part.limits,
        brief: areFirstLimits(candidate.limits) ? candidateWords.limits.defaults : '',
        editor: (
          <>
            {areFirstLimits(candidate.limits) && <p className="callout-note">{candidateWords.limits.areDefaults}</p>}
            <LargestFaults />
            <FigureGroups groups={limitGroups(index, candidate.limits)} />
            <StockButtons index={index} limits={candidate.limits} />
            <LimitSwitches candidate={candidate} index={index} />
          </>
        ),
      }
    default:
      return tankView(item, candidate, index, figure)
  }
}

function tankView(item: string, candidate: Candidate, index: number, figure: (mm: number) => string): ItemView {
  const { tanks } = candidate
  const side = item === 'tank-left' ? 'left' : 'right'
  const tank = tanks?.[side]
  return {
    title: words.part.tank[side],
    brief: tank ? figure(tank.length) : words.part.noTank,
    editor: tank && <TankEditor tank={tank} index={index} side={side} />,
  }
}
