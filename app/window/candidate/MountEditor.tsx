import { Button } from 'react-aria-components/Button'
import { placeOver } from '../../../core/bay/mountOver.ts'
import type { Mount } from '../../../core/bay/mountSchema.ts'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import { candidateWords } from '../candidateWords.ts'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import { Picker } from '../editors/Picker.tsx'
import { useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { MountHoles } from './MountHoles.tsx'
import { mountGroups } from './mountSpecs.ts'
import {
  coreFaces,
  type MountKind,
  partsToSitOn,
  placeOn,
  removeMount,
  setMountKind,
  tankFaces,
  withMount,
} from './mountEdits.ts'
import { WordsField } from '../editors/WordsField.tsx'
import { withFields } from './removal.ts'
import { RemoveButton } from './RemoveButton.tsx'
import { useSteps } from '../editors/useSteps.tsx'

const { mount: text } = candidateWords

interface Props {
  readonly candidate: Candidate
  readonly index: number
  readonly mount: Mount
}

/** All of one bracket or pin: where it sits, its sizes, what it goes onto, and when it goes in. */
export function MountEditor({ candidate, index, mount }: Props) {
  const { id, name } = mount
  const nth = candidate.mounts?.findIndex((each) => each.id === id) ?? 0
  return (
    <>
      <WordsField
        label={text.name}
        of={name}
        value={name}
        apply={(bay, next) => withMount(bay, index, id, (before) => ({ ...before, name: next }))}
      />
      <Choices candidate={candidate} index={index} mount={mount} />
      <FigureGroups groups={mountGroups(index, nth, mount)} />
      <Over candidate={candidate} index={index} mount={mount} />
      <MountHoles mount={mount} index={index} nth={nth} />
      <div className="candidate-tools">
        <RemoveButton
          label={text.remove(name)}
          what={name}
          removal={(bay) => ({ bay: removeMount(bay, index, id), also: [] })}
        />
      </div>
    </>
  )
}

/** What is chosen and not measured: form, part and face, how a plate stands, when it goes in. */
function Choices({ candidate, index, mount }: Props) {
  const { go, told } = useSteps()
  const { on, shape, id, name } = mount
  const put = (label: string, chosen: string, change: (before: Mount) => Mount) =>
    go(`${name}, ${label}: ${chosen}`, (bay) => withMount(bay, index, id, change))
  const faces: readonly (keyof typeof text.faces)[] = on.part === 'core' ? coreFaces : tankFaces
  return (
    <div className="mount-choices">
      <Picker
        label={text.kind}
        value={shape.kind}
        choices={choicesOf(text.kinds)}
        onChange={(kind) => {
          const next = kind as MountKind
          go(`${name}, ${text.kind}: ${text.kinds[next]}`, (bay) => setMountKind(bay, index, id, next))
        }}
      />
      <Picker
        label={text.part}
        value={on.part}
        choices={partsToSitOn(candidate).map((part) => ({ id: part, text: text.parts[part] }))}
        onChange={(key) => {
          const part = key as typeof on.part
          put(text.part, text.parts[part], (before) => ({ ...before, on: placeOn(before.on, part, before.on.face) }))
        }}
      />
      <Picker
        label={text.face}
        value={on.face}
        choices={faces.map((face) => ({ id: face, text: text.faces[face] }))}
        onChange={(key) =>
          put(text.face, text.faces[key as typeof on.face], (before) => ({
            ...before,
            on: placeOn(before.on, before.on.part, key),
          }))
        }
      />
      {shape.kind === 'plate' && (
        <Picker
          label={text.stands}
          value={shape.stands ?? 'flat'}
          choices={choicesOf(text.standing)}
          onChange={(key) => {
            const stands = key as 'flat' | 'out'
            put(text.stands, text.standing[stands], (before) =>
              before.shape.kind === 'plate' ? { ...before, shape: { ...before.shape, stands } } : before,
            )
          }}
        />
      )}
      <Picker
        label={text.fitting}
        value={mount.fitting ?? 'with-part'}
        choices={choicesOf(text.fittings)}
        onChange={(key) => {
          const fitting = key as 'with-part' | 'after'
          put(text.fitting, text.fittings[fitting], (before) => withFields(before, { fitting }))
        }}
      />
      {told}
    </div>
  )
}

const choicesOf = (all: Readonly<Record<string, string>>) =>
  Object.entries(all).map(([id, said]) => ({ id, text: said }))

/** Brings the mount over its first fixing along its face; says so where that cannot be. */
function Over({ candidate, index, mount }: Props) {
  const { go, told } = useSteps()
  const bay = useWindow(bayOf)
  const fixing = bay && firstFixing(bay, mount)
  if (!fixing) return null
  const { shape } = mount
  if (shape.kind === 'plate' && shape.stands === 'out') return <p className="callout-note">{text.overOut}</p>
  const place = placeOver(candidate, mount, fixing)
  if (!place) return <p className="callout-note">{text.overNot}</p>
  return (
    <div className="candidate-tools">
      <Button
        className="small"
        onPress={() =>
          go(text.overDone(mount.name), (whole) =>
            withMount(whole, index, mount.id, (before) => ({ ...before, on: { ...before.on, ...place } })),
          )
        }
      >
        {text.over}
      </Button>
      {told}
    </div>
  )
}

function firstFixing(bay: Bay, { shape }: Mount) {
  const id = shape.kind === 'pin' ? shape.fixing : shape.holes?.[0]?.fixing
  return bay.fixings?.find((each) => each.id === id)
}
