import type { Bay } from '../../../core/bay/schema.ts'
import { type Choice, Picker } from './Picker.tsx'
import { useSteps } from './useSteps.tsx'

interface Props {
  readonly label: string
  readonly value: string
  readonly choices: readonly Choice[]
  /** The name of the step. @param said what was chosen, as the list says it */
  readonly step: (said: string) => string
  readonly apply: (bay: Bay, id: string) => Bay
}

/** One thing out of a list, picked by one step; what the bay does not take is said below. */
export function EditPicker({ label, value, choices, step, apply }: Props) {
  const { go, told } = useSteps()
  return (
    <>
      <Picker
        label={label}
        value={value}
        choices={choices}
        onChange={(id) => void go(step(choices.find((each) => each.id === id)?.text ?? id), (bay) => apply(bay, id))}
      />
      {told}
    </>
  )
}
