import { candidateGrips } from '../../../core/bay/grips/candidateGrips.ts'
import type { Grip } from '../../../core/bay/grips/grip.ts'
import { shapeGrips } from '../../../core/bay/grips/shapeGrips.ts'
import type { Bay, Candidate, KeepOut } from '../../../core/bay/schema.ts'
import type { Bounds } from '../../../core/shape/form.ts'
import type { FieldPath } from '../state/edit.ts'
import { stageIn } from '../state/pipes.ts'
import { bayOf, candidateIn, type OpenItem, type WindowState } from '../state/windowState.ts'
import { words } from '../words.ts'

/** What stands in the drawing with handles: the candidate, or one keep-out. */
export interface Thing {
  /** As long as it is the same, handles keep their focus. */
  readonly key: string
  readonly name: string
  readonly item: OpenItem
  readonly candidate: Candidate | null
  /** Where the bay holds what its grips set. */
  readonly path: FieldPath
  readonly grips: readonly Grip<unknown>[]
}

/**
 * The thing whose handles are shown: in the Core stage the candidate, in the Measure stage the keep-out that is open.
 * @param boundsOf a keep-out as it is drawn
 */
export function thingIn(state: WindowState, boundsOf: (keepOut: string) => Bounds | null): Thing | null {
  const bay = bayOf(state)
  const stage = stageIn(state)
  if (!bay || state.motion) return null
  if (stage === 'core') return candidateThing(bay, candidateIn(state), state.openItem)
  const { openItem } = state
  if (stage !== 'measure' || openItem?.side !== 'keepOut') return null
  const index = bay.keepOuts.findIndex(({ id }) => id === openItem.key)
  return index < 0 ? null : keepOutThing(bay.keepOuts[index], index, boundsOf)
}

function candidateThing(bay: Bay, candidate: Candidate | null, open: OpenItem | null): Thing | null {
  if (!candidate) return null
  const shown = shownWith(open)
  return {
    key: `candidate ${candidate.id}`,
    name: words.part.core,
    item: { side: 'part', key: 'place' },
    candidate,
    path: ['candidates', bay.candidates.indexOf(candidate)],
    grips: candidateGrips(candidate).filter(shown),
  }
}

/** With a part open only its own handles are in the way; with none, all are there. */
function shownWith(open: OpenItem | null): (grip: Grip<unknown>) => boolean {
  if (open?.side !== 'part') return () => true
  const { key } = open
  if (key === 'place') return ({ group }) => group === 'move' || group === 'turn'
  if (key === 'core' || key === 'limits') return ({ what }) => what.kind === 'face' || what.kind === 'place'
  if (/^(tank|stub)-/.test(key))
    return ({ what }) => what.kind === 'tank' && (key.includes(what.side) || key.startsWith(`stub-${what.side}`))
  return () => true
}

function keepOutThing({ id, name, shape }: KeepOut, index: number, boundsOf: (id: string) => Bounds | null): Thing {
  return {
    key: `keepOut ${id}`,
    name,
    item: { side: 'keepOut', key: id },
    candidate: null,
    path: ['keepOuts', index, 'shape'],
    grips: shapeGrips(shape, shape.kind === 'mesh' ? boundsOf(id) : null),
  }
}
