import type { Here } from '../state/context.ts'
import type { words } from '../words.ts'

type FoundKind = keyof typeof words.find.kind

/** Something that the search field can find, and what choosing it does. */
export interface Entry {
  readonly id: string
  readonly kind: FoundKind
  readonly label: string
  readonly detail: string
  /** What else people call it. */
  readonly also?: string
  /** Of commands: the key that does the same. */
  readonly key?: string
  /** Why it cannot be done now. */
  readonly off?: string
  readonly perform: (here: Here) => void
}
