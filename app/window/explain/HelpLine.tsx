import { useEffect, useState } from 'react'
import { type Explains, explanation } from '../explainWords.ts'

/**
 * In the foot: what the number says that has the focus, or that the pointer is on. Screen readers hear it as the number's own
 * description and not from here.
 */
export function HelpLine() {
  const name = useExplained()
  if (name === null) return null
  return (
    <span className="foot-explains" aria-hidden="true" data-testid="explains">
      {explanation(name)}
    </span>
  )
}

function useExplained(): Explains | null {
  const [name, setName] = useState<Explains | null>(null)
  useEffect(() => {
    const focused = () => explainedAt(document.activeElement)
    const onFocus = () => setName(focused())
    // What the pointer leaves gives way to what has the focus.
    const onPointer = ({ target }: Event) => setName(explainedAt(target) ?? focused())
    const onKey = ({ key }: KeyboardEvent) => key === 'Escape' && setName(null)
    document.addEventListener('focusin', onFocus)
    document.addEventListener('focusout', onFocus)
    document.addEventListener('pointerover', onPointer)
    document.addEventListener('keydown', onKey)
    return () => {
      document.removeEventListener('focusin', onFocus)
      document.removeEventListener('focusout', onFocus)
      document.removeEventListener('pointerover', onPointer)
      document.removeEventListener('keydown', onKey)
    }
  }, [])
  return name
}

function explainedAt(target: EventTarget | null): Explains | null {
  const element = target instanceof Element ? target.closest<HTMLElement>('[data-explains]') : null
  return (element?.dataset.explains as Explains | undefined) ?? null
}
