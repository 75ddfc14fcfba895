import { Color } from 'three'
import type { Verdict } from '../../../core/verdict/answer.ts'

/** Colours of the drawing, taken from the style sheet so that paper, ledger and drawing can never differ. */
export interface Tones {
  readonly paper: Color
  readonly ink: Color
  readonly keepOut: Color
  readonly keepOutInk: Color
  readonly part: Color
  readonly partInk: Color
  readonly verdict: Readonly<Record<Verdict, Color>>
}

export function tonesOf(element: Element): Tones {
  const style = getComputedStyle(element)
  const tone = (name: string) => new Color().setStyle(style.getPropertyValue(`--${name}`).trim() || '#888')
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
