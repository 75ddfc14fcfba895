import type { Palette } from '../picture/protocol.ts'

/** Colours of the drawing, taken from the style sheet so that paper, ledger and drawing can never differ. */
export function paletteOf(element: Element): Palette {
  const style = getComputedStyle(element)
  const tone = (name: string) => style.getPropertyValue(`--${name}`).trim() || '#888'
  return {
    paper: tone('paper-drawing'),
    ink: tone('ink'),
    keepOut: tone('keep-out'),
    keepOutInk: tone('keep-out-ink'),
    part: tone('part'),
    partInk: tone('part-ink'),
    verdict: {
      clears: tone('clears'),
      unproved: tone('unproved'),
      short: tone('short'),
      fouls: tone('fouls'),
    },
  }
}
