import { Button } from 'react-aria-components/Button'
import type { Candidate } from '../../../core/bay/schema.ts'
import { FixingEditor } from '../candidate/FixingEditor.tsx'
import { addFixing } from '../candidate/fixingEdits.ts'
import { useSteps } from '../editors/useSteps.tsx'
import { candidateWords } from '../candidateWords.ts'
import { fieldText } from '../editors/quantity.ts'
import { MarkedCallout } from '../measure/MarkedCallout.tsx'
import { useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { useOpened } from './useOpened.ts'

const { fixing: text } = candidateWords

/** What the car offers to be fixed to, each point opening into its own numbers. A new one begins at the candidate's middle. */
export function Fixings({ candidate }: { candidate: Candidate }) {
  const { go, told } = useSteps()
  const units = useWindow((state) => state.units)
  const fixings = useWindow(bayOf)?.fixings ?? []
  const { open, setOpen, openFresh } = useOpened(
    fixings.map(({ id }) => id),
    'fixing',
  )
  const add = () => {
    let made = ''
    const done = go(text.add, (bay) => {
      const added = addFixing(bay, 'hole', { at: candidate.at, axis: [0, 0, 1] })
      made = added.id
      return added.bay
    })
    if (done) openFresh(made)
  }
  return (
    <section className="seat-mounts" aria-label={text.title}>
      <header className="pipe-part-head">
        <h3>{text.title}</h3>
      </header>
      {fixings.length === 0 && <p className="callout-note">{text.none}</p>}
      <ul>
        {fixings.map((fixing, nth) => (
          <li key={fixing.id} className="seat-fixing" data-fixing={fixing.id}>
            <MarkedCallout
              row={`fixing ${fixing.id}`}
              title={fixing.name}
              brief={text.brief(text.kinds[fixing.kind], fieldText(fixing.diameter, 'length', units))}
              open={open === fixing.id}
              onOpen={(on) => setOpen(on ? fixing.id : null)}
            >
              <FixingEditor fixing={fixing} nth={nth} />
            </MarkedCallout>
          </li>
        ))}
      </ul>
      <Button className="small add-fixing" onPress={add}>
        + {text.add}
      </Button>
      {told}
    </section>
  )
}
