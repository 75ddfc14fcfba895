/**
 * Follows a pointer that is down on an element until it is released, lost, or given up by Escape.
 * @returns ends it at once as given up: for when the element goes
 */
export function untilReleased(
  element: HTMLElement,
  pointerId: number,
  move: (event: PointerEvent) => void,
  done: (how: 'end' | 'cancel') => void,
): () => void {
  element.setPointerCapture(pointerId)
  const moved = (event: PointerEvent) => {
    if (event.pointerId === pointerId) move(event)
  }
  const over = (how: 'end' | 'cancel') => {
    element.removeEventListener('pointermove', moved)
    element.removeEventListener('pointerup', up)
    element.removeEventListener('pointercancel', lost)
    removeEventListener('keydown', key, true)
    done(how)
  }
  const up = () => over('end')
  const lost = () => over('cancel')
  const key = (pressed: KeyboardEvent) => {
    if (pressed.key !== 'Escape') return
    pressed.preventDefault()
    pressed.stopPropagation()
    over('cancel')
  }
  element.addEventListener('pointermove', moved)
  element.addEventListener('pointerup', up)
  element.addEventListener('pointercancel', lost)
  addEventListener('keydown', key, true)
  return lost
}
