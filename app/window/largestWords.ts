import { sideWords } from '../wording/holdWords.ts'

const ends: Readonly<Record<string, string>> = { min: 'at least', max: 'at most' }

function limitName(name: string): string {
  const [, what, end, axis] = /^(\w+)(?:\.(\w+))?(?:\[(\d)\])?$/.exec(name) ?? []
  if (what === undefined) return name
  const of = axis === undefined ? what : `${what} ${'XYZ'[Number(axis)]}`
  return end === undefined ? of : `${of} ${ends[end] ?? end}`
}

/** Words about the largest core and the best place; part of `words`. */
export const largestWords = {
  title: 'Largest core that clears',
  short: 'Largest core',
  fresh: '',
  working: 'working',
  outOfDate: 'out of date',
  litres: (litres: string) => `${litres} L`,
  atMost: (litres: string, share: string) => `at most ${litres} L, proved within ${share}`,
  stopped: (litres: string, share: string | null) =>
    `stopped; at most ${litres} L${share === null ? '' : `, within ${share}`}`,
  soFar: (litres: string, bound: string) => `${litres} L so far, at most ${bound} L`,
  openEnd: 'stopped, with no bound yet',
  place: (depth: string, width: string, height: string, at: string) => `${depth} × ${width} × ${height} at ${at}`,
  tilted: (degrees: string) => `, tilted ${degrees}°`,
  cancel: 'Cancel',
  cancelHint: 'Cancel: keep the best so far with its bound',
  again: 'Search on',
  adopt: 'Adopt as a new candidate',
  adoptDepth: (depth: string) => `Adopt ${depth} deep as a new candidate`,
  adopted: (name: string) => `Adopt ${name}`,
  candidateName: (depth: string) => `Largest ${depth} deep`,
  candidateNote: (from: string, bound: string) => `Found as the largest core within the limits of ${from}: ${bound}.`,
  whyNot: 'No largest core, because of the limits or the bay:',
  nothingFits: 'Nothing within the limits clears: proved.',
  noneFound: 'None found before it was stopped.',
  conflict: 'What conflicts with the limits',
  conflictLimits: 'The limits conflict among themselves.',
  holds: 'What holds it',
  holdsWorking: 'computing what each millimetre buys',
  noHolds: 'The limits and stock sizes hold it.',
  side: sideWords,
  hold: (keepOut: string, side: string, part: string) => `${keepOut}, ${side} ${part}`,
  /** Of parts that must stay as they are only the measuring can give way, never the metal. */
  buysSurer: (step: string, litres: string) => `measured ${step} surer, it buys ${litres}`,
  buys: (step: string, litres: string) => `+${step} here buys ${litres}`,
  nothing: 'nothing by itself',
  gainUnknown: 'what more room here buys was not reached',
  lessThan: (litres: string) => `less than ${litres} L`,
  /** `depth.max`, `centre.min[0]`, as answers name limits. */
  limit: (name: string) => `Limit: ${limitName(name)}`,
  limitShort: limitName,
  chart: (value: string, bound: string, seconds: string) =>
    `Closing in: ${value} L found, at most ${bound} L, after ${seconds} s`,
  chartFound: 'found',
  chartBound: 'at most',
  chartTime: (seconds: string) => `${seconds} s`,
  seated: {
    title: 'Largest that can be offered up',
    note: 'Smaller than the largest above where that does not come in past what stays.',
    ask: 'Find the largest that comes in',
    again: 'Find again',
    searching: 'Trying cores from large to small for a way in',
    soFar: (litres: string, bound: string) => `${litres} L comes in so far; at most ${bound} L by any way`,
    noneYet: 'none that comes in yet',
    cancelHint: 'Cancel: keep the largest that comes in so far',
    moves: (n: number, least: string) =>
      `Comes in with ${n} ${n === 1 ? 'move' : 'moves'}, least margin ${least}: proved.`,
    byWay: (litres: string) => `By these moves at most ${litres} L`,
    byWayWithout: (litres: string, names: string) => `By these moves at most ${litres} L, even without ${names}`,
    byWayOpen: 'What these moves let in at the most was not reached.',
    anyWay: (litres: string) => `By any way at most ${litres} L, the bound of the seat`,
    anyWayOpen: 'What any way lets in at the most was not reached.',
    proved: (share: string) => `Proved: nothing more than ${share} larger can be offered up.`,
    notProved: 'That no larger one comes in by other moves is not proved.',
    ended: 'Ended before it was done; what is told is proved all the same.',
    noneFound: 'No core with a way in was found. That there is none is not proved.',
    nothingFits: 'Nothing within the limits clears at its seat, so nothing can be offered up: proved.',
    leftOut: 'Something is left out for a look, so nothing is proved of the car.',
    adopt: 'Adopt with its moves as a new candidate',
    candidateName: (depth: string) => `Comes in, ${depth} deep`,
    candidateNote: (from: string, bounds: string) =>
      `Found as the largest core within the limits of ${from} that can be offered up. ${bounds}.`,
  },
  table: {
    ask: 'Table over stock depths',
    again: 'Compute the table again',
    title: 'Largest face of each stock depth',
    depth: 'Depth',
    face: (unit: string) => `Face, ${unit}`,
    litres: 'L',
    holds: 'Held by',
    none: 'nothing fits',
    stopped: 'stopped',
    byLimits: 'limits',
  },
  share: (litres: string, share: string) => `${litres} L, ${share} of largest`,
  limits: {
    centre: 'Centre stays in a region',
    tilt: 'Tilt may vary',
    symmetric: 'Symmetric about Y = 0',
    on: (what: string) => `Limits: ${what}`,
    off: (what: string) => `Limits, taken out: ${what}`,
  },
  best: {
    title: 'Best place',
    find: 'Best place',
    free: 'May move along',
    axes: ['X', 'Y', 'Z'] as const,
    tilt: 'tilt, as limits allow',
    reach: 'Reach, each way',
    clears: (least: string, most: string) =>
      `Clears with ${least} to spare; nowhere within reach is there more than ${most}.`,
    noneClears: (most: string) => `No place within reach clears: the margin is ${most} at the most. Proved.`,
    noneFound: (least: string, most: string) =>
      `No place that clears was found: the margin is ${least} at the best one known, and ${most} at the most.`,
    stopped: 'Stopped before it was proved to be the best.',
    at: (at: string) => `At ${at}`,
    holds: 'What holds it there',
    conflict: 'What conflicts there',
    move: 'Move there',
    moved: 'Move to the best place',
    pipes: 'Corners of pipes go along with their ports: look at their rows afterwards.',
    negative: (text: string) => `−${text}`,
  },
  moves: {
    title: 'Least move that clears this gap',
    note: 'This gap alone: what else the move runs into, the ledger says afterwards.',
    one: (way: string, length: string) => `${way} ${length}`,
    label: (way: string, length: string) => `Move the candidate ${way} by ${length}`,
    none: (reach: string) => `No move along an axis within ${reach} clears it.`,
    working: 'computing the least moves',
  },
}
