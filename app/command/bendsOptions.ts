import type { PeopleUnits } from '../../core/units/lengthText.ts'
import type { AdoptOptions } from './adopt.ts'

/** What `bends` is asked. */
export interface BendsOptions extends AdoptOptions {
  readonly candidate?: string
  readonly pipe?: string
  readonly fromEnd?: boolean
  readonly fromTable?: string
  readonly csv?: boolean
  readonly json?: boolean
  readonly units?: PeopleUnits
}
