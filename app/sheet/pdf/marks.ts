import type { Verdict } from '../../../core/verdict/answer.ts'

/** Inks of the verdicts, readable by colour-blind people; mark and word always stand with them. */
export const verdictInk: Record<Verdict, string> = {
  clears: '#0B7A75',
  unproved: '#C98A00',
  short: '#B5402A',
  fouls: '#5B2A86',
}

const svg = (inside: string) => `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">${inside}</svg>`

/** A tick, a question mark on hatching, a half bar, a cross: told apart without any colour. */
const marks: Record<Verdict, (ink: string) => string> = {
  clears: (ink) => `<path d="M1 5.5 L4 8.5 L9 1.5" fill="none" stroke="${ink}" stroke-width="1.6"/>`,
  unproved: (ink) =>
    `<path d="M0.5 3.5 L3.5 0.5 M0.5 7 L7 0.5 M1 10 L10 1 M4 10 L10 4 M7.5 10 L10 7.5" stroke="${ink}" stroke-width="0.4"/>
<rect x="2.4" y="0.6" width="5.2" height="8.8" fill="#ffffff"/>
<path d="M3 3.2 C3 0.4 7.2 0.4 7.2 3 C7.2 4.8 5 4.6 5 6.4" fill="none" stroke="${ink}" stroke-width="1.2"/>
<rect x="4.4" y="7.6" width="1.3" height="1.4" fill="${ink}"/>`,
  short: (ink) =>
    `<rect x="0.5" y="2.5" width="9" height="5" fill="none" stroke="${ink}" stroke-width="0.8"/>
<rect x="0.5" y="2.5" width="4.5" height="5" fill="${ink}"/>`,
  fouls: (ink) => `<path d="M1.5 1.5 L8.5 8.5 M8.5 1.5 L1.5 8.5" fill="none" stroke="${ink}" stroke-width="2"/>`,
}

export const verdictMark = (verdict: Verdict): string => svg(marks[verdict](verdictInk[verdict]))
