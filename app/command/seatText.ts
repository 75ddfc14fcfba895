import type { Bay, Candidate } from '../../core/bay/schema.ts'
import type { LeastOnTheWay, SeatAnswer, SeatPath } from '../../core/seat/answer.ts'
import { gripsOfPath } from '../../core/seat/grips.ts'
import type { MountsJudged } from '../../core/seat/mountsJudged.ts'
import { formatGap, formatLength, formatUncertainty, type PeopleUnits } from '../../core/units/lengthText.ts'
import { jointSentences, jointsToTell } from '../wording/mountWords.ts'
import { leastText, moveWords, pointText } from '../wording/seatWords.ts'
import { cautions } from '../wording/cautions.ts'
import { type Colour, coloured, verdictColour, verdictMark } from './colour.ts'
import { type Fact, factsText } from './facts.ts'
import type { Io } from './io.ts'
import { wrapped } from './table.ts'
import { counted, listed } from '../wording/plainWords.ts'

export interface SeatTelling {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly answer: SeatAnswer
  readonly mounts: MountsJudged
  /** A path of the user's own was judged. */
  readonly own: boolean
  readonly units: PeopleUnits
}

/** For people: whether it can be offered up and how, what is off for it and what stays, and whether its mounts go on. */
export function seatText(telling: SeatTelling, io: Io): string {
  const { bay, candidate, answer, units } = telling
  const { path, fewest, miss } = answer
  const columns = Math.min(io.columns ?? 100, 100)
  const facts = (list: readonly Fact[]) => (list.length === 0 ? '' : factsText(list, columns))
  const paragraphs = [
    wrapped(
      `${bay.name} · candidate ${candidate.id} (${candidate.name}) · ${units === 'mm' ? 'mm' : 'inches'}`,
      io.columns,
    ),
    headText(telling, io),
    path ? pathText('Moves, in the order of offering up:', path, path.least, telling, columns) : '',
    fewest ? pathText('With fewer moves, and less margin:', fewest, fewest.least, telling, columns) : '',
    miss ? wrapped(missText(miss, units), io.columns) : '',
    facts(standingFacts(telling)),
    facts(mountFacts(telling)),
    wrapped(cautions, io.columns),
  ]
  return `${paragraphs.filter((text) => text !== '').join('\n\n')}\n`
}

function headText(telling: SeatTelling, io: Io): string {
  const [mark, colour, lead, rest] = saying(telling)
  const text = `${mark} ${lead}.`
  return coloured(text, colour, io.colour) + wrapped(`${text} ${rest}`, io.columns).slice(text.length)
}

function saying({ answer, own, units }: SeatTelling): [mark: string, colour: Colour, lead: string, rest: string] {
  const { atSeat, path, queries, stopped, leftOut, need } = answer
  const wanted = `Wanted on the way: ${formatLength(need, units)}, or a keep-out’s own clearance where that is less; uncertainty and tolerance are counted on top.`
  if (answer.answer === 'proved') {
    const moves = counted(path?.moves.length ?? 0, 'move')
    const how = stopped === 'done' ? '' : ' The search was stopped; what it has is proved all the same.'
    return [
      verdictMark.clears,
      verdictColour.clears,
      'proved',
      `It can be offered up in ${moves}, continuously and past all that stays. ${wanted}${how}`,
    ]
  }
  if (atSeat) {
    const margin = formatGap(atSeat.margin, units, { decimals: units === 'mm' ? 2 : 4 })
    return [
      verdictMark.fouls,
      verdictColour.fouls,
      'refuted',
      `It does not clear at its seat: ${atSeat.part} to ${atSeat.keepOut}, margin ${margin}. See check.`,
    ]
  }
  if (answer.answer === 'refuted')
    return [verdictMark.fouls, verdictColour.fouls, 'refuted', `These moves fall short on the way. ${wanted}`]
  if (answer.answer === 'closed')
    return [
      verdictMark.fouls,
      verdictColour.fouls,
      'closed',
      `Proved: a ball within the core cannot leave the bay with what stays in it, so the part cannot either. ${wanted}`,
    ]
  if (leftOut.length > 0)
    return [
      verdictMark.unproved,
      verdictColour.unproved,
      answer.answer,
      `Something is left out for a look, so nothing is proved of the car. ${wanted}`,
    ]
  const which = own
    ? 'Whether these moves hold is not decided'
    : `No path was found in ${queries.toLocaleString('en')} distance queries`
  const why =
    stopped === 'time' ? ' before the clock stopped it' : stopped === 'cancelled' ? ' before it was stopped' : ''
  return [
    verdictMark.unproved,
    verdictColour.unproved,
    answer.answer,
    `${which}${why}. That there is none is not proved. ${wanted}`,
  ]
}

/** The moves as a numbered list, with where it starts and the least margin. */
export function pathText(
  title: string,
  { start, moves }: SeatPath,
  least: LeastOnTheWay | null,
  { candidate, units }: Pick<SeatTelling, 'candidate' | 'units'>,
  columns: number,
): string {
  const grips = gripsOfPath({ start, moves }, candidate.core)
  const list: Fact[] = [
    [
      'start',
      `core centre at ${pointText(start.at, units)}${start.turn.some((x) => x !== 0) ? `, turned ${start.turn.map((x) => `${Number(x.toFixed(3))}°`).join(', ')}` : ''}`,
    ],
    ...moves.map((move, n): Fact => [String(n + 1), moveWords(move, grips[n], units)]),
    ...(least ? [['least margin', leastText(least, units)] as const] : []),
  ]
  return `${title}\n${factsText(list, columns)}`
}

const missText = ({ by, part, keepOut, at }: NonNullable<SeatAnswer['miss']>, units: PeopleUnits): string =>
  `Nearest miss, as evidence and no proof: with the part ${formatUncertainty(by, units)} smaller on each side a path was found; it is tightest at ${part} to ${keepOut}, at ${pointText(at, units)}.`

/** Couplers and clamps are put on with their pipe. */
const isToldAlone = (part: string): boolean => !/^(coupler|clamp)-/.test(part)

function standingFacts({ bay, answer }: SeatTelling): Fact[] {
  const { off, leftOut, withPart, after, exempt } = answer
  const stays = bay.keepOuts.filter(({ role, enabled }) => enabled !== false && (role === 'safety' || role === 'lamp'))
  const told: [string, readonly string[]][] = [
    ['off for it', off],
    ['stay', stays.map(({ id }) => id)],
    ['left out', leftOut],
    ['go in', withPart],
    ['put on after', after.filter(isToldAlone)],
    ['not held', exempt.map(({ part, keepOut }) => `${part} against ${keepOut}, on the whole way`)],
  ]
  return told.flatMap(([name, list]): Fact[] => (list.length > 0 ? [[name, listed(list)]] : []))
}

function mountFacts({ bay, mounts, units }: SeatTelling): Fact[] {
  const fixing = (id: string) => bay.fixings?.find((each) => each.id === id)?.name ?? id
  return mounts.mounts.map(({ mount, name, verdict, joints }): Fact => {
    const sentences = jointsToTell(joints).flatMap((joint) =>
      jointSentences(joint, { fixing, obstacle: (id) => id }, units),
    )
    return [`mount ${mount}`, [`${name}: ${verdict}.`, ...sentences].join(' ')]
  })
}
