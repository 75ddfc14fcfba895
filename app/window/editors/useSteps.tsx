import { type ReactNode, useState } from 'react'
import type { Bay } from '../../../core/bay/schema.ts'
import { faultText } from '../../wording.ts'
import { withoutPlace } from './figure.ts'
import { useHere } from '../state/context.ts'
import { step } from './doing.ts'

interface Steps {
  /**
   * Does one named step.
   * @param needed why it must not be done, where that is so: then it is said and nothing is done
   * @returns whether the bay took it
   */
  readonly go: (label: string, apply: (bay: Bay) => Bay, needed?: string | null) => boolean
  /** Why the last one was not taken. */
  readonly told: ReactNode
}

/** Steps of pickers and buttons: what the bay refuses is said where it was asked for. */
export function useSteps(): Steps {
  const { room } = useHere()
  const [why, setWhy] = useState<string | null>(null)
  return {
    go: (label, apply, needed = null) => {
      const fault = needed === null ? step(room.store, label, apply) : null
      const told = needed ?? (fault && faultText(withoutPlace(fault)))
      setWhy(told)
      return told === null
    },
    told: why !== null && (
      <p className="figure-fault" role="alert">
        {why}
      </p>
    ),
  }
}
