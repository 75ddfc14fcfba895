import { type ReactNode, useEffect, useRef } from 'react'
import { Button } from 'react-aria-components/Button'
import { Disclosure, DisclosurePanel } from 'react-aria-components/Disclosure'
import { Heading } from 'react-aria-components/Heading'
import { explanationId } from '../explain/Explained.tsx'
import type { Explains } from '../explainWords.ts'

/** The row of something that is marked in the drawing too: what is done to one shows at the other. */
export interface Pointing {
  readonly key: string
  readonly isPointed: boolean
  readonly onPoint: (on: boolean) => void
}

export interface CalloutProps {
  readonly title: string
  /** The item's answer, beside its name. */
  readonly brief: ReactNode
  readonly open: boolean
  readonly onOpen: (open: boolean) => void
  readonly children: ReactNode
  readonly mark?: ReactNode
  readonly muted?: boolean
  readonly pointing?: Pointing
  /** What the figures beside its name are. */
  readonly explains?: Explains
}

/** An item of the bay as a label beside the drawing; opened, it becomes the editor of its own numbers. */
export function Callout({ title, brief, open, onOpen, children, mark, muted, pointing, explains }: CalloutProps) {
  const element = useRef<HTMLDivElement>(null)
  useEffect(() => {
    if (open) element.current?.scrollIntoView({ block: 'nearest' })
  }, [open])
  return (
    <Disclosure
      ref={element}
      className={`callout ${open ? 'callout-open' : ''} ${muted ? 'callout-muted' : ''}`}
      isExpanded={open}
      onExpandedChange={onOpen}
      data-open={open || undefined}
      data-row={pointing?.key}
    >
      <Heading className="callout-head" level={3}>
        <Button
          slot="trigger"
          data-explains={explains}
          aria-describedby={explains && explanationId(explains)}
          className={`callout-button ${pointing?.isPointed ? 'callout-pointed' : ''}`}
          onHoverStart={() => pointing?.onPoint(true)}
          onHoverEnd={() => pointing?.onPoint(false)}
          onFocus={() => pointing?.onPoint(true)}
          onBlur={() => pointing?.onPoint(false)}
        >
          {mark}
          <span className="callout-title">{title}</span>
          <span className="callout-brief">{brief}</span>
        </Button>
      </Heading>
      <DisclosurePanel className="callout-panel">{open ? children : null}</DisclosurePanel>
    </Disclosure>
  )
}
