import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import type { Candidate } from '../../../core/bay/schema.ts'
import { candidateWords } from '../candidateWords.ts'
import { Picker } from '../editors/Picker.tsx'
import { portName } from '../pipes/names.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { useSteps } from '../editors/useSteps.tsx'
import { StockButton } from './StockDialog.tsx'
import { addPipe, freeEnds, pipeEndsIn, removePipe, withPipe } from './pipeEdits.ts'
import { WordsField } from '../editors/WordsField.tsx'
import { RemoveButton } from './RemoveButton.tsx'

const { pipe: text } = candidateWords

/** The pipes of a candidate: added between any two ends, taken out, opened in their stage. */
export function CandidatePipes({ candidate, index }: { candidate: Candidate; index: number }) {
  const { room } = useHere()
  const { go, told } = useSteps()
  const bay = useWindow(bayOf)
  const [ends, setEnds] = useState<readonly [from: string, to: string] | null>(null)
  if (!bay) return null
  const all = pipeEndsIn(bay, candidate)
  const picked = ends?.every((end) => all.includes(end)) ? ends : null
  const run = picked ?? freeEnds(bay, candidate)
  const choices = all.map((id) => ({ id, text: portName(bay, id) }))
  const pipes = candidate.pipes ?? []
  return (
    <>
      {pipes.length === 0 && <p className="callout-note">{text.none}</p>}
      {pipes.map(({ id, name, from, to }) => (
        <div key={id} className="candidate-tools">
          <Button
            className="small"
            aria-label={text.open(name)}
            onPress={() => room.store.setState({ stage: 'pipes', pipe: id })}
          >
            {name}: {text.run(portName(bay, from), portName(bay, to))}
          </Button>
          <WordsField
            label={text.name}
            of={name}
            value={name}
            apply={(whole, next) => withPipe(whole, index, id, (before) => ({ ...before, name: next }))}
          />
          <RemoveButton
            label={text.removeOf(name)}
            what={name}
            removal={(whole) => ({ bay: removePipe(whole, index, id), also: [] })}
          />
        </div>
      ))}
      {run === null ? (
        <p className="callout-note">{text.noEnds}</p>
      ) : (
        <div className="candidate-tools">
          <Picker label={text.from} value={run[0]} choices={choices} onChange={(id) => setEnds([id, run[1]])} />
          <Picker label={text.to} value={run[1]} choices={choices} onChange={(id) => setEnds([run[0], id])} />
          <Button
            className="small"
            isDisabled={run[0] === run[1]}
            onPress={() => {
              go(text.add, (whole) => addPipe(whole, index, run[0], run[1]).bay)
              setEnds(null)
            }}
          >
            {text.add}
          </Button>
        </div>
      )}
      {told}
      <StockButton />
    </>
  )
}
