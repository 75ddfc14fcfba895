import { mirrorId } from '../../../core/bay/sense.ts'
import { useWindow } from '../state/context.ts'
import { type FieldPath, withField } from '../state/edit.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { Picker } from './Picker.tsx'
import { useSteps } from './useSteps.tsx'

/** Stands for no keep-out in the list; no id can be like it. */
const nothing = ' '

interface Props {
  readonly label: string
  /** What is said where none is named. */
  readonly none: string
  readonly of: string
  readonly value: string | undefined
  readonly path: FieldPath
}

/** The keep-out that a port or fixing is part of: what ends there is not held against it. */
export function KeepOutPicker({ label, none, of, value, path }: Props) {
  const { go, told } = useSteps()
  const keepOuts = useWindow(bayOf)?.keepOuts ?? []
  const choices = [
    { id: nothing, text: none },
    ...keepOuts.flatMap(({ id, name, mirror }) => [
      { id, text: name },
      ...(mirror ? [{ id: mirrorId(id), text: words.keepOut.mirrored(name) }] : []),
    ]),
  ]
  return (
    <>
      <Picker
        label={label}
        value={value ?? nothing}
        choices={choices}
        onChange={(key) =>
          go(words.measure.changed(of, label.toLowerCase(), choices.find(({ id }) => id === key)?.text ?? key), (bay) =>
            withField(bay, path, key === nothing ? undefined : key),
          )
        }
      />
      {told}
    </>
  )
}
