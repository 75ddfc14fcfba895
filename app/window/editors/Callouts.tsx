import { type ReactNode, useEffect, useRef } from 'react'
import { Button } from 'react-aria-components/Button'
import { Disclosure, DisclosurePanel } from 'react-aria-components/Disclosure'
import { Heading } from 'react-aria-components/Heading'

interface Props {
  readonly title: string
  /** The item's answer, beside its name. */
  readonly brief: ReactNode
  readonly open: boolean
  readonly onOpen: (open: boolean) => void
  readonly children: ReactNode
  readonly mark?: ReactNode
  readonly muted?: boolean
}

/** An item of the bay as a label beside the drawing; opened, it becomes the editor of its own numbers. */
export function Callout({ title, brief, open, onOpen, children, mark, muted }: Props) {
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
    >
      <Heading className="callout-head" level={3}>
        <Button slot="trigger" className="callout-button">
          {mark}
          <span className="callout-title">{title}</span>
          <span className="callout-brief">{brief}</span>
        </Button>
      </Heading>
      <DisclosurePanel className="callout-panel">{open ? children : null}</DisclosurePanel>
    </Disclosure>
  )
}
