import type { Bay } from '../../../core/bay/schema.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import { pipeOfPart } from '../ledger/names.ts'
import {
  type Dress,
  type Emphasis,
  type Hatch,
  type Look,
  type OverlappingNames,
  solidName,
} from '../picture/protocol.ts'
import { keysWith, leastGaps, lookOf, rolesOf } from '../seeing/shown.ts'
import { isAway, tightestShown } from '../state/motion.ts'
import { pipeIn, stageIn } from '../state/pipes.ts'
import type { Scene } from '../state/scene.ts'
import { settingIn } from '../state/seat.ts'
import { bayOf, candidateIn, selectedPair, shownLedger, troublesNow, type WindowState } from '../state/windowState.ts'

/** How the solids of a scene are to look in a state of the window. */
export function dressOf(state: WindowState, { keepOuts, parts, ghost }: Scene): Dress {
  const bay = bayOf(state)
  const wanted = standingOut(state)
  const ownPipe = wanted.size === 0 ? lookedAt(state) : null
  const candidate = candidateIn(state)
  const gone = offTheWay(state)
  const ledger = shownLedger(state)?.ledger ?? null
  const gaps = leastGaps(ledger)
  const kept = ({ side, key }: DrawnSolid) =>
    side === 'part' || wanted.has(`keepOut ${key}`) ? 'drawn' : lookOf(key, bay, state.seeing, gaps)
  // A pipe as it might be is laid over the one that is there. Where its corners cannot be rounded, what is drawn is the
  // pipe as it was.
  const ownEmphasis = ghost !== null || troublesNow(state).length > 0 ? 'faint' : 'chosen'
  const isOwn = ({ side, key }: DrawnSolid) =>
    ownPipe !== null && side === 'part' && pipeOfPart(candidate, key)?.id === ownPipe
  const look = (solid: DrawnSolid): Look => ({
    hatch: hatchOf(solid, bay),
    // A pipe that is worked on stands out among the rest, which stays as it is: it is what the pipe has to get past.
    emphasis:
      gone.has(solidName(solid)) || kept(solid) === 'hidden'
        ? 'gone'
        : isOwn(solid)
          ? ownEmphasis
          : emphasisOf(solid, wanted, state.ghosted || kept(solid) === 'ghosted'),
  })
  return {
    looks: new Map([...keepOuts, ...parts].map((solid) => [solidName(solid), look(solid)])),
    overlapping: overlappingOf(state),
  }
}

const overlappingOf = (state: WindowState): readonly OverlappingNames[] =>
  (shownLedger(state)?.ledger.pairs ?? []).flatMap(({ part, keepOut, between, overlap, verdict }) =>
    overlap && overlap.depth > 0
      ? [{ part, other: keepOut, otherSide: between ? ('part' as const) : ('keepOut' as const), verdict }]
      : [],
  )

/** What changes the looks; a picture is dressed anew only when this text does. */
export function dressKey(state: WindowState): string {
  const bay = bayOf(state)
  const roles = bay?.keepOuts.map(({ id, role }) => id + role).join()
  const overlaps = overlappingOf(state).map((pair) => Object.values(pair).join())
  return [
    [...standingOut(state)].join(),
    [...offTheWay(state)].join(),
    lookedAt(state),
    troublesNow(state).length > 0,
    state.ghosted,
    state.theme,
    roles,
    ...(['hidden', 'ghosted'] as const).map((look) =>
      keysWith(look, bay, state.seeing, shownLedger(state)?.ledger ?? null).join(),
    ),
    ...overlaps,
  ].join(';')
}

/** The pipe that is worked on. */
const lookedAt = (state: WindowState): string | null =>
  stageIn(state) === 'pipes' ? (pipeIn(state)?.id ?? null) : null

/** What is not there while the candidate goes in: what comes off for it, and what is put on after. */
function offTheWay(state: WindowState): ReadonlySet<string> {
  const setting = isAway(state) ? settingIn(state) : null
  return new Set(
    setting ? [...setting.off.map((id) => `keepOut ${id}`), ...setting.after.map((name) => `part ${name}`)] : [],
  )
}

/** Keys of what is pointed at or chosen: both sides of a gap, or the item that is being edited. */
function standingOut(state: WindowState): ReadonlySet<string> {
  if (state.lit.length > 0) return new Set(state.lit)
  const tightest = tightestShown(state)
  if (tightest) return new Set([`part ${tightest.part}`, `keepOut ${tightest.keepOut}`])
  const pair = isAway(state) ? null : selectedPair(state)
  const { openItem } = state
  if (openItem && (stageIn(state) === 'measure' || stageIn(state) === 'core')) {
    if (openItem.side === 'keepOut')
      return new Set([openItem.key, `${openItem.key}-mirror`].map((id) => `keepOut ${id}`))
    // Place and limits belong to the whole candidate: nothing stands out beside it.
    return openItem.key === 'place' || openItem.key === 'limits' ? new Set() : new Set([`part ${openItem.key}`])
  }
  if (!pair) return new Set()
  const other = pair.between ? 'part' : 'keepOut'
  return new Set([`part ${pair.part}`, `${other} ${pair.keepOut}`])
}

function emphasisOf(solid: DrawnSolid, wanted: ReadonlySet<string>, ghosted: boolean): Emphasis {
  if (wanted.has(solidName(solid))) return 'chosen'
  if (solid.side === 'keepOut' && ghosted) return 'ghost'
  return wanted.size > 0 ? 'faint' : 'plain'
}

function hatchOf({ side, key }: DrawnSolid, bay: Bay | null): Hatch {
  if (side === 'part') return key === 'core' ? 'core' : 'plain'
  return (bay && rolesOf(bay).get(key)) ?? 'plain'
}
