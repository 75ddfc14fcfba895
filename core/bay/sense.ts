import type { BayView, Entry } from './bayView.ts'
import { candidateTroubles } from './candidateSense.ts'
import { meshFileTrouble } from './meshFile.ts'
import { fixingTroubles } from './mountSense.ts'
import { duplicateIds, unknownName } from './reference.ts'
import type { KeepOut } from './schema.ts'
import { stockTroubles } from './stockSense.ts'
import type { Trouble } from './trouble.ts'

/** Ids under which keep-outs stand in the ledger: their own, and that of the mirror image. */
export const mirrorId = (id: string): string => `${id}-mirror`

/** What is wrong between the fields of a bay whose single values are right. */
export function senseTroubles(view: BayView): Trouble[] {
  return [
    ...Object.values(view.ids).flatMap(duplicateIds),
    ...mirrorClashes(view),
    ...view.keepOuts.flatMap(keepOutTroubles),
    ...portTroubles(view),
    ...view.fixings.flatMap((fixing) => fixingTroubles(fixing, view, keepOutIds(view))),
    ...stockTroubles(view),
    ...view.candidates.flatMap((candidate) => candidateTroubles(candidate, view)),
  ]
}

function mirrorClashes({ keepOuts, ids }: BayView): Trouble[] {
  const taken = new Set(ids.keepOuts.map((entry) => entry.item))
  return keepOuts.flatMap(({ path, item }) =>
    item.mirror && taken.has(mirrorId(item.id))
      ? [
          {
            code: 'mirror-id-taken',
            path: [...path, 'mirror'],
            expected: `no other keep-out called ${mirrorId(item.id)}`,
            got: true,
          },
        ]
      : [],
  )
}

function keepOutTroubles({ path, item }: Entry<KeepOut>): Trouble[] {
  const troubles: Trouble[] = []
  const { role, fitting, shape } = item
  if (fitting === 'comes-off' && (role === 'safety' || role === 'lamp'))
    troubles.push({
      code: 'must-stay',
      path: [...path, 'fitting'],
      expected: `"stays", since its role is ${role}`,
      got: fitting,
    })
  if (shape.kind === 'mesh') {
    const expected = meshFileTrouble(shape.file)
    if (expected)
      troubles.push({ code: 'mesh-outside-folder', path: [...path, 'shape', 'file'], expected, got: shape.file })
  }
  return troubles
}

/** Every id that a port or fixing may sit on. */
export function keepOutIds({ ids, keepOuts }: BayView): string[] {
  return [
    ...ids.keepOuts.map((entry) => entry.item),
    ...keepOuts.filter(({ item }) => item.mirror).map(({ item }) => mirrorId(item.id)),
  ]
}

function portTroubles(view: BayView): Trouble[] {
  if (view.unreadable.has('keepOuts')) return []
  const known = keepOutIds(view)
  return view.ports.flatMap(({ path, item }) =>
    item.sitsOn === undefined || known.includes(item.sitsOn)
      ? []
      : [unknownName('unknown-keep-out', [...path, 'sitsOn'], item.sitsOn, known, 'the id of a keep-out')],
  )
}
