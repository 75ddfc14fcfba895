import { type TextSize, textScale, textSizes } from '../seeing/seeing.ts'

const key = 'gapwright-text-size'
/**
 * Widths from which the window is arranged anew, pixels at normal letters: what stands beside the drawing shares one
 * column; the stages have a row of their own; all stands one below the other. See narrow.css and tight.css.
 */
const rooms = { narrow: 1180, tight: 900, single: 620 }

/** The size chosen before; normal where nothing can be remembered. */
export function firstTextSize(): TextSize {
  try {
    return textSizes.find((size) => size === localStorage.getItem(key)) ?? 'normal'
  } catch {
    return 'normal'
  }
}

export function rememberTextSize(size: TextSize): void {
  try {
    localStorage.setItem(key, size)
  } catch {
    // A private window keeps nothing; the choice holds for as long as it is open.
  }
}

/** Puts the size on the page: the style sheets take it from there, and larger letters make a window narrower. */
export function wearTextSize(size: TextSize): void {
  const { dataset, style } = document.documentElement
  dataset.text = size
  style.setProperty('--text', String(textScale[size]))
  for (const [room, widest] of Object.entries(rooms)) dataset[room] = String(innerWidth / textScale[size] <= widest)
}
