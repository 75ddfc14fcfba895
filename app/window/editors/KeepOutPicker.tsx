import { mirrorId } from '../../../core/bay/sense.ts'
import { useWindow } from '../state/context.ts'
import { type FieldPath, withField } from '../state/edit.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { EditPicker } from './EditPicker.tsx'

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
  const keepOuts = useWindow(bayOf)?.keepOuts ?? []
  const choices = [
    { id: nothing, text: none },
    ...keepOuts.flatMap(({ id, name, mirror }) => [
      { id, text: name },
      ...(mirror ? [{ id: mirrorId(id), text: words.keepOut.mirrored(name) }] : []),
    ]),
  ]
  return (
    <EditPicker
      label={label}
      value={value ?? nothing}
      choices={choices}
      step={(said) => words.measure.changed(of, label.toLowerCase(), said)}
      apply={(bay, key) => withField(bay, path, key === nothing ? undefined : key)}
    />
  )
}
