import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import type { MountPlace } from '../../../core/bay/mountSchema.ts'
import type { Candidate } from '../../../core/bay/schema.ts'
import { addMount, type MountKind, partsToSitOn } from '../candidate/mountEdits.ts'
import { useSteps } from '../editors/useSteps.tsx'
import { candidateWords } from '../candidateWords.ts'
import { Picker } from '../editors/Picker.tsx'
import { useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'

const { mount: text } = candidateWords
const kinds: readonly MountKind[] = ['plate', 'block', 'pin']
const fresh = ' '

interface Props {
  readonly candidate: Candidate
  readonly index: number
  readonly onAdded: (id: string) => void
}

/** A new bracket or pin: of which form, on which part, onto which fixing. It begins in the middle of the part's rear. */
export function AddMount({ candidate, index, onAdded }: Props) {
  const { go, told } = useSteps()
  const bay = useWindow(bayOf)
  const [kind, setKind] = useState<MountKind>('plate')
  const [wanted, setWanted] = useState<MountPlace['part']>('core')
  const [onto, setOnto] = useState(fresh)
  if (!bay) return null
  const parts = partsToSitOn(candidate)
  const part = parts.includes(wanted) ? wanted : 'core'
  const fixings = bay.fixings ?? []
  const fixing = fixings.some(({ id }) => id === onto) ? onto : fresh
  const add = () => {
    let made = ''
    const done = go(text.add, (whole) => {
      const place: MountPlace = { part, face: 'rear', u: 0, v: 0 }
      const added = addMount(whole, index, kind, place, fixing === fresh ? undefined : fixing)
      made = added.id
      return added.bay
    })
    if (done) onAdded(made)
  }
  return (
    <fieldset className="mount-new">
      <legend>{text.addKind}</legend>
      <div className="mount-choices">
        <Picker
          label={text.kind}
          value={kind}
          choices={kinds.map((id) => ({ id, text: text.kinds[id] }))}
          onChange={(id) => setKind(id as MountKind)}
        />
        <Picker
          label={text.part}
          value={part}
          choices={parts.map((id) => ({ id, text: text.parts[id] }))}
          onChange={(id) => setWanted(id as MountPlace['part'])}
        />
      </div>
      <Picker
        label={text.onto}
        value={fixing}
        choices={[{ id: fresh, text: text.ontoNew }, ...fixings.map(({ id, name }) => ({ id, text: name }))]}
        onChange={setOnto}
      />
      <Button className="small add-mount" onPress={add}>
        + {text.add}
      </Button>
      {told}
    </fieldset>
  )
}
