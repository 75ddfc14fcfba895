import type { ReactNode } from 'react'
import { Switch } from 'react-aria-components/Switch'
import type { Bay } from '../../../core/bay/schema.ts'
import { useSteps } from './useSteps.tsx'

interface Props {
  readonly isOn: boolean
  /** What is shown beside it. */
  readonly children: ReactNode
  /** The name of the step. */
  readonly label: (on: boolean) => string
  readonly apply: (bay: Bay, on: boolean) => Bay
}

/** Something of the bay that is there or not, switched by one step; what the bay does not take is said below. */
export function EditSwitch({ isOn, children, label, apply }: Props) {
  const { go, told } = useSteps()
  return (
    <>
      <Switch className="in-place" isSelected={isOn} onChange={(on) => void go(label(on), (bay) => apply(bay, on))}>
        <span className="switch-box" aria-hidden="true" />
        {children}
      </Switch>
      {told}
    </>
  )
}
