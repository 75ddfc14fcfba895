import type { SeatPath } from '../../../core/seat/answer.ts'
import { gripsOfPath } from '../../../core/seat/grips.ts'
import { moveFigures } from '../../../core/sheet/figure/moveFigures.ts'
import { keepOutName, partName } from '../../wording/partNames.ts'
import { listed, placeText } from '../../wording/plainWords.ts'
import { leastText, moveWords } from '../../wording/seatWords.ts'
import type { SheetContext, SheetKind } from '../context.ts'
import type { Block } from '../sheet.ts'
import { fittingBlocks } from './fittingBlocks.ts'
import { comesOff, wayVerdict } from './wayText.ts'

/** Offering up: the moves in words and pictures, the tightest place, what is off and what stays, mounts and their order. */
export const offeringUpSheets: SheetKind = (context) => {
  const { facts, units } = context
  const { proved, text } = wayVerdict(facts, units)
  const path = facts.way.answer?.path ?? null
  return [
    {
      id: 'offering-up',
      title: 'Offering up',
      orientation: 'portrait',
      blocks: [
        { kind: 'heading', level: 1, text: 'The way in' },
        { kind: 'text', tone: proved ? 'strong' : 'caution', text: text[0].toUpperCase() + text.slice(1) },
        ...(path ? pathBlocks(context, path) : []),
        ...standingBlocks(context),
        { kind: 'break' },
        ...fittingBlocks(context),
      ],
    },
  ]
}

const viewWords = {
  front: 'seen from the front',
  side: 'seen from the left',
  plan: 'seen from above, front down',
} as const
/** Of a small picture, mm, and the room between two. */
const pictureShare = 0.72
const between = 6

function pathBlocks(context: SheetContext, path: SeatPath): Block[] {
  const { facts, units, things, room } = context
  const { candidate, bay } = facts
  const answer = facts.way.answer
  const least = answer?.path?.least ?? null
  const grips = gripsOfPath(path, candidate.core)
  const across = path.moves.length > 4 ? 3 : 2
  const width = (room('portrait').width - (across - 1) * between) / across
  const pictures = moveFigures({
    candidate,
    path,
    least,
    things,
    withPart: answer?.withPart ?? [],
    off: comesOff(facts),
    width,
    height: width * pictureShare,
  })
  const items = pictures.map(({ figure, view, tightest }, n) => ({
    figure,
    caption: `${n + 1}. ${sentence(moveWords(path.moves[n], grips[n], units))} (${viewWords[view]}${tightest ? '; ring: the tightest place' : ''})`,
  }))
  return [
    { kind: 'text', text: `Start: ${startText(context, path)}. Then, in this order:` },
    { kind: 'figures', across, items },
    {
      kind: 'text',
      tone: 'small',
      text: 'Pictures are not to scale. Dashed with two dots: where the move begins; full: where it ends; arrow: the way of its middle, or of the corner that goes farthest where it turns; cross: what it turns about. What comes off, and what stands before or behind the part, is left out.',
    },
    ...(least
      ? [
          {
            kind: 'text',
            tone: 'strong',
            text: `Tightest on the way, margin ${leastText({ ...least, part: partName(candidate, least.part), keepOut: keepOutName(bay, least.keepOut) }, units)}.`,
          } satisfies Block,
        ]
      : []),
  ]
}

function startText({ units }: SheetContext, { start }: SeatPath): string {
  const turned = start.turn.some((x) => Math.abs(x) > 1e-9)
  const turn = turned ? `, turned ${start.turn.map((x) => `${Number(x.toFixed(2))}°`).join(', ')} about X, Y, Z` : ''
  return `the core’s middle ${placeText(start.at, units)} from the origin${turn}`
}

const sentence = (text: string): string => text[0].toUpperCase() + text.slice(1)

/** Couplers and clamps are put on with their pipe. */
const isToldAlone = (part: string): boolean => !/^(coupler|clamp)-/.test(part)

function standingBlocks({ facts }: SheetContext): Block[] {
  const { bay, candidate, safety, way } = facts
  const off = comesOff(facts)
  const stays = bay.keepOuts.filter(({ role, enabled, fitting }) => {
    const isSafety = role === 'safety' || role === 'lamp'
    return !isSafety && enabled !== false && fitting !== 'comes-off'
  })
  const names = (ids: readonly string[]) => listed(ids.map((id) => keepOutName(bay, id)))
  const parts = (list: readonly string[]) => listed(list.map((part) => partName(candidate, part)))
  const rows: (readonly [string, string])[] = [
    ['Comes off first', off.length > 0 ? names(off) : 'nothing'],
    ['Stays, never loosened', names(safety.filter(({ leftOut }) => !leftOut).map(({ keepOut }) => keepOut))],
    ['Stays too', listed(stays.map(({ name, mirror }) => (mirror ? `${name} (both)` : name)))],
    ['Left out for a look', names(way.answer?.leftOut ?? [])],
    ['Goes in together', parts(way.answer?.withPart ?? [])],
    ['Put on after', parts((way.answer?.after ?? []).filter(isToldAlone))],
    [
      'Not held on the way',
      listed(
        (way.answer?.exempt ?? []).map(
          ({ part, keepOut }) => `${partName(candidate, part)} against ${keepOutName(bay, keepOut)}`,
        ),
      ),
    ],
  ]
  return [
    { kind: 'heading', level: 2, text: 'What comes off, what stays' },
    { kind: 'facts', rows: rows.filter(([, what]) => what !== '') },
  ]
}
