import type { ReactNode } from 'react'
import { type Explains, explainWords, explanation } from '../explainWords.ts'

/** The sentence of a number, as other elements name it with `aria-describedby`. */
export const explanationId = (name: Explains): string => `explains-${name}`

/**
 * A number that says what it is: on focus, under the pointer and at a touch, in the foot of the window; to a screen reader as its
 * description. It stays text that can be marked and copied.
 */
export function Explained({ name, children }: { name: Explains; children: ReactNode }) {
  return (
    <span
      className="explained"
      role="note"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: its explanation has to be reached without a pointer
      tabIndex={0}
      data-explains={name}
      aria-describedby={explanationId(name)}
    >
      {children}
    </span>
  )
}

/** Every sentence, unseen, for descriptions to name. */
export function Explanations() {
  return (
    <div hidden>
      {(Object.keys(explainWords) as Explains[]).map((name) => (
        <p key={name} id={explanationId(name)}>
          {explanation(name)}
        </p>
      ))}
    </div>
  )
}
