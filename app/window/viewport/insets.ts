import type { Frame } from './camera.ts'

/** Below this height or width the small drawings give way, pixels. */
export const smallDrawingsFit = (width: number, height: number): boolean => width >= 420 && height >= 420

/** What of the picture is covered: tabs and tools above (to `covered`), small drawings below. */
export const insetsOf = (width: number, height: number, covered: number): Frame => ({
  width: Math.max(1, width),
  height: Math.max(1, height),
  top: Math.min(covered + 14, height / 3),
  bottom: smallDrawingsFit(width, height) ? smallSize(width).height + 34 : 24,
  left: 18,
  right: 18,
})

/** Whether the axes have room at the right of the small drawings. */
export const besideSmallDrawings = (width: number): boolean => width - 3 * smallSize(width).width > 190

/** Size of one small drawing. */
export function smallSize(width: number): { readonly width: number; readonly height: number } {
  const wide = Math.max(110, Math.min(206, Math.floor((width - 36 - 24) / 3)))
  return { width: wide, height: Math.round(wide * 0.64) }
}
