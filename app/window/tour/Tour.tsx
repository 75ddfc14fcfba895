import { useEffect, useRef, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Dialog } from 'react-aria-components/Dialog'
import { Heading } from 'react-aria-components/Heading'
import { OverlayArrow } from 'react-aria-components/Popover'
import { Popover } from 'react-aria-components/Popover'
import { useAids, useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { type TourStep, tourSteps } from './steps.ts'

const { tour: text } = words

/** The way round: four notes, each at the thing it tells of. Left at any step, it comes back only when it is asked for. */
export function Tour() {
  const at = useAids(({ tour }) => tour)
  const loaded = useWindow((state) => bayOf(state) !== null)
  if (at === null || !loaded) return null
  return <Note key={at} step={tourSteps[at]} number={at} />
}

function Note({ step, number }: { step: TourStep; number: number }) {
  const { room } = useHere()
  const anchor = useAnchor(step)
  const go = (tour: number | null) => room.aids.setState({ tour })
  const isLast = number === tourSteps.length - 1
  const { title, text: said } = text.steps[step.name]
  if (!anchor.found) return null
  return (
    <Popover
      className="tour"
      triggerRef={anchor.ref}
      isOpen
      isNonModal
      placement={step.placement}
      offset={12}
      onOpenChange={(open) => !open && go(null)}
    >
      <OverlayArrow className="tour-arrow">
        <svg width="14" height="14" viewBox="0 0 14 14" aria-hidden="true">
          <path d="M0 0 7 7 14 0" />
        </svg>
      </OverlayArrow>
      <Dialog className="tour-note" aria-describedby="tour-text">
        <p className="tour-step">
          {text.label}, {text.step(number + 1, tourSteps.length)}
        </p>
        <Heading slot="title">{title}</Heading>
        <p id="tour-text">{said}</p>
        <div className="tour-buttons">
          <Button className="main" autoFocus onPress={() => go(isLast ? null : number + 1)}>
            {isLast ? text.done : text.next}
          </Button>
          {number > 0 && (
            <Button className="plain" onPress={() => go(number - 1)}>
              {text.back}
            </Button>
          )}
          {!isLast && (
            <Button className="plain" onPress={() => go(null)}>
              {text.leave}
            </Button>
          )}
        </div>
      </Dialog>
    </Popover>
  )
}

/** Brings up the step's stage and marks what it tells of, for as long as it is told. */
function useAnchor({ stage, at }: TourStep) {
  const { room } = useHere()
  const ref = useRef<Element | null>(null)
  const [found, setFound] = useState(false)
  useEffect(() => {
    room.store.setState({ stage, openItem: null })
    // The stage's sheet is in the page once it has been drawn.
    const frame = requestAnimationFrame(() => {
      const element = at.map((selector) => document.querySelector(selector)).find((each) => each !== null) ?? null
      ref.current = element
      element?.setAttribute('data-toured', '')
      setFound(element !== null)
    })
    return () => {
      cancelAnimationFrame(frame)
      ref.current?.removeAttribute('data-toured')
    }
  }, [room, stage, at])
  return { ref, found }
}
