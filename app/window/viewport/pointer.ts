import type { ViewName } from '../state/windowState.ts'
import { orbited, panned, zoomed } from './camera.ts'
import type { Eye } from './eye.ts'

/** Radians for each pixel of a drag. */
const turn = 0.008
/** A press that moves less than this, pixels, is a click. */
const still = 4

interface Press {
  readonly id: number
  readonly pans: boolean
  moved: number
  x: number
  y: number
}

/**
 * Turning, moving and zooming by mouse, pen or finger. A drag turns in the space view and moves in the others; the right
 * or middle button, or Shift, always moves; the wheel zooms about the pointer.
 * @param onClick with the place in the drawing, pixels
 * @returns what ends the listening
 */
export function steer(
  element: HTMLElement,
  eye: Eye,
  view: () => ViewName,
  onClick: (x: number, y: number) => void,
): () => void {
  let press: Press | null = null
  const down = (event: PointerEvent) => {
    if (press) return
    const pans = event.button !== 0 || event.shiftKey || view() !== 'space'
    press = { id: event.pointerId, pans, moved: 0, x: event.clientX, y: event.clientY }
    element.setPointerCapture(event.pointerId)
  }
  const move = (event: PointerEvent) => {
    if (!press || event.pointerId !== press.id) return
    const [dx, dy] = [event.clientX - press.x, event.clientY - press.y]
    press.moved += Math.hypot(dx, dy)
    press.x = event.clientX
    press.y = event.clientY
    if (press.moved < still) return
    const { pans } = press
    eye.move(view(), (rig) => (pans ? panned(rig, dx, dy) : orbited(rig, dx * turn, dy * turn)))
  }
  const up = (event: PointerEvent) => {
    if (!press || event.pointerId !== press.id) return
    const clicked = event.type === 'pointerup' && press.moved < still && event.button === 0
    press = null
    if (!clicked) return
    const box = element.getBoundingClientRect()
    onClick(event.clientX - box.left, event.clientY - box.top)
  }
  const wheel = (event: WheelEvent) => {
    event.preventDefault()
    const box = element.getBoundingClientRect()
    const about = [event.clientX - box.left - box.width / 2, event.clientY - box.top - box.height / 2] as const
    const pixels = event.deltaY * (event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 30 : 1)
    eye.move(view(), (rig) => zoomed(rig, Math.exp(-Math.max(-300, Math.min(300, pixels)) * 0.0016), about))
  }
  const noMenu = (event: Event) => event.preventDefault()
  element.addEventListener('pointerdown', down)
  element.addEventListener('pointermove', move)
  element.addEventListener('pointerup', up)
  element.addEventListener('pointercancel', up)
  element.addEventListener('wheel', wheel, { passive: false })
  element.addEventListener('contextmenu', noMenu)
  return () => {
    element.removeEventListener('pointerdown', down)
    element.removeEventListener('pointermove', move)
    element.removeEventListener('pointerup', up)
    element.removeEventListener('pointercancel', up)
    element.removeEventListener('wheel', wheel)
    element.removeEventListener('contextmenu', noMenu)
  }
}
