import { WordsField, type WordsFieldProps } from '../editors/WordsField.tsx'
import { useWindow } from '../state/context.ts'
import { type FieldPath, fieldAt, withField } from '../state/edit.ts'
import { bayOf } from '../state/windowState.ts'

interface Props extends Omit<WordsFieldProps, 'value' | 'apply'> {
  readonly path: FieldPath
  /** May be empty, and is then not in the bay. */
  readonly optional?: boolean
}

/** Words that are a field of the bay. */
export function ItemText({ path, optional = false, ...field }: Props) {
  const value = (useWindow((state) => fieldAt(bayOf(state), path)) as string | undefined) ?? ''
  return (
    <WordsField
      {...field}
      value={value}
      apply={(bay, text) => withField(bay, path, text === '' && optional ? undefined : text)}
    />
  )
}
