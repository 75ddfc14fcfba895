import { type ReactNode, useState } from 'react'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import { faultText } from '../../wording.ts'
import { withoutPlace } from '../editors/figure.ts'
import { useHere } from '../state/context.ts'
import { step } from './doing.ts'

interface Steps {
  /** Does one named step. @returns whether the bay took it */
  readonly go: (label: string, apply: (bay: Bay) => Bay) => boolean
  /** Why the last one was not taken. */
  readonly told: ReactNode
}

/** Steps of pickers and buttons: what the bay refuses is said where it was asked for. */
export function useSteps(): Steps {
  const { room } = useHere()
  const [fault, setFault] = useState<Fault | null>(null)
  return {
    go: (label, apply) => {
      const why = step(room.store, label, apply)
      setFault(why && withoutPlace(why))
      return why === null
    },
    told: fault && (
      <p className="figure-fault" role="alert">
        {faultText(fault)}
      </p>
    ),
  }
}
