import type { Verdict } from '../../../core/verdict/answer.ts'

/** What stands across every page of a candidate that does not clear. */
const words: Record<Exclude<Verdict, 'clears'>, string> = {
  unproved: 'NOT PROVED TO CLEAR',
  short: 'DOES NOT CLEAR: SHORT',
  fouls: 'DOES NOT CLEAR: FOULS',
}

export const acrossEveryPage = (verdict: Verdict): { text: string; verdict: Verdict } | null =>
  verdict === 'clears' ? null : { text: words[verdict], verdict }
