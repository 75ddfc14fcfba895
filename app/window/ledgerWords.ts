const counted = (n: number, one: string, many = `${one}s`): string =>
  `${n.toLocaleString('en')} ${n === 1 ? one : many}`

/** Words of the gap ledger; part of `words`. */
export const ledgerWords = {
  title: 'Gap ledger',
  order: 'smallest margin first',
  list: 'Gaps, smallest margin first',
  to: 'to',
  of: (required: string, allowances: string) => `of ${required} + ${allowances}`,
  updating: 'updating',
  outOfDate: 'out of date',
  stopped: 'stopped',
  stop: 'Stop',
  again: 'Compute again',
  gapsDone: (n: string) => `${n} gaps done`,
  why: 'No ledger of the bay as it is now:',
  none: 'A ledger needs a candidate and at least one keep-out.',
  leftOut: (names: string) => `Left out for a look, not checked: ${names}.`,
  unrouted: (names: string) => `Not routed, not checked: ${names}.`,
  exemptShort: (n: number) => `${counted(n, 'joined end')} not held against what ${n === 1 ? 'it joins' : 'they join'}`,
  exempt: (text: string) => `Not held against what they are joined to: ${text}.`,
  exemptWhole: (part: string, from: string) => `${part} from ${from}, as a whole`,
  exemptOne: (part: string, from: string, length: string) => `${part} from ${from} over ${length}`,
  rowLabel: (other: string, part: string, verdict: string, gap: string, required: string, allowances: string) =>
    `${other} to ${part}, ${verdict}, ${gap} of ${required} + ${allowances}`,
  open: 'open shell',
}
