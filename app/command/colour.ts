import type { Verdict } from '../../core/verdict/answer.ts'

/** The sixteen colours that every terminal has, and that follow its own light or dark ground. */
export type Colour = 'cyan' | 'yellow' | 'red' | 'magenta' | 'grey' | 'bold'

const codes: Record<Colour, number> = { cyan: 36, yellow: 33, red: 31, magenta: 35, grey: 90, bold: 1 }

export const coloured = (text: string, colour: Colour | undefined, on: boolean): string =>
  on && colour !== undefined ? `\u001b[${codes[colour]}m${text}\u001b[0m` : text

/** Nearest to the window's palette (teal, amber, brick, violet); never without the mark and the word. */
export const verdictColour: Record<Verdict, Colour> = {
  clears: 'cyan',
  unproved: 'yellow',
  short: 'red',
  fouls: 'magenta',
}
export const verdictMark: Record<Verdict, string> = { clears: '✓', unproved: '?', short: '◖', fouls: '✕' }
export const verdictText = (verdict: Verdict): string => `${verdictMark[verdict]} ${verdict}`
