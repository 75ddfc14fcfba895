/** Examples that sets of sheets are made of, and what is said with each of them. */
export const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'
export const corvane = 'assets/corvane/corvane.bay.json'
export const day = ['--date', '2026-03-04']
/** Sets of the Tarnbeck bay on a machine that has other things to do, ms. */
export const slow = 300_000
