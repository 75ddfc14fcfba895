import type { BayView, Entry } from './bayView.ts'
import type { Path } from './jsonText.ts'
import { holeBeyond, type Holed } from './mountFrame.ts'
import type { Fixing, Mount, MountHole } from './mountSchema.ts'
import { unknownName } from './reference.ts'
import type { Candidate } from './schema.ts'
import { sides } from './tankPort.ts'
import type { Trouble } from './trouble.ts'

/** Steeper than this to a slot's axis, its direction says where it runs: sine of 5°. */
const leastAcross = 0.0872

/** What is wrong within a fixing, and between it and the keep-outs. */
export function fixingTroubles({ path, item }: Entry<Fixing>, view: BayView, keepOutIds: readonly string[]): Trouble[] {
  const troubles: Trouble[] = []
  const { kind, sitsOn, diameter, length, along, axis } = item
  if (sitsOn !== undefined && !view.unreadable.has('keepOuts') && !keepOutIds.includes(sitsOn))
    troubles.push(unknownName('unknown-keep-out', [...path, 'sitsOn'], sitsOn, keepOutIds, 'the id of a keep-out'))
  if (kind === 'slot') troubles.push(...slotTroubles(item, path))
  else if (length !== undefined || along !== undefined)
    troubles.push({
      code: 'not-a-slot',
      path: [...path, length === undefined ? 'along' : 'length'],
      expected: `no such field, since it is a ${kind}`,
      got: length ?? along,
    })
  if (kind === 'slot' && along && sineBetween(axis, along) < leastAcross)
    troubles.push({
      code: 'slot-along-axis',
      path: [...path, 'along'],
      expected: 'a way across its axis, by 5° at least',
      got: along,
    })
  if (kind === 'slot' && length !== undefined && length < diameter)
    troubles.push(slotTooShort([...path, 'length'], diameter, length))
  return troubles
}

function slotTroubles({ length, along }: Fixing, path: Path): Trouble[] {
  return (['length', 'along'] as const).flatMap((field) =>
    (field === 'length' ? length : along) === undefined
      ? [
          {
            code: 'missing-field',
            path: [...path, field],
            expected: 'a slot says how long it is and which way it runs',
          },
        ]
      : [],
  )
}

const slotTooShort = (path: Path, width: number, got: number): Trouble => ({
  code: 'slot-too-short',
  path,
  expected: `at least its width, ${width}`,
  got,
})

function sineBetween(a: readonly number[], b: readonly number[]): number {
  const cross = Math.hypot(a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
  return cross / (Math.hypot(...a) * Math.hypot(...b))
}

/** What is wrong within a mount, and between it, its candidate and the fixings of the bay. */
export function mountTroubles(mount: Mount, candidate: Candidate, view: BayView, path: Path): Trouble[] {
  const { shape, on } = mount
  const known = ['core', ...sides.filter((side) => candidate.tanks?.[side]).map((side) => `tank-${side}`)]
  const troubles: Trouble[] = known.includes(on.part)
    ? []
    : [unknownName('unknown-part', [...path, 'on', 'part'], on.part, known, 'a part of the candidate')]
  const field = shape.kind === 'pin' ? 'fixing' : 'holes'
  if (shape.kind === 'pin' ? shape.fixing === undefined : (shape.holes ?? []).length === 0)
    troubles.push({
      code: 'mount-without-fixing',
      path: [...path, 'shape', field],
      expected: shape.kind === 'pin' ? 'the fixing that it goes into' : 'at least one hole that goes onto a fixing',
    })
  if (shape.kind === 'pin') {
    if (shape.fixing !== undefined) troubles.push(...pinTroubles(shape.fixing, view, [...path, 'shape', 'fixing']))
    return troubles
  }
  for (const [index, hole] of (shape.holes ?? []).entries())
    troubles.push(...holeTroubles(hole, shape, view, [...path, 'shape', 'holes', index]))
  return troubles
}

function noFixing(id: string, view: BayView, path: Path): Trouble[] {
  const known = view.ids.fixings.map(({ item }) => item)
  if (view.unreadable.has('fixings') || known.includes(id)) return []
  return [unknownName('unknown-fixing', path, id, known, 'the id of a fixing')]
}

const fixingOf = (id: string, view: BayView): Fixing | undefined =>
  view.fixings.find(({ item }) => item.id === id)?.item

/** A hole through which a bolt has to be put: the fixing is no stud or thread. */
const isOpen = (kind: Fixing['kind']): boolean => kind === 'hole' || kind === 'slot'

function pinTroubles(id: string, view: BayView, path: Path): Trouble[] {
  const fixing = fixingOf(id, view)
  if (!fixing || isOpen(fixing.kind)) return noFixing(id, view, path)
  return [{ code: 'pin-on-solid', path, expected: 'a hole or slot that it goes into', got: `a ${fixing.kind}` }]
}

function holeTroubles(hole: MountHole, shape: Holed, view: BayView, path: Path): Trouble[] {
  const troubles = noFixing(hole.fixing, view, [...path, 'fixing'])
  const fixing = fixingOf(hole.fixing, view)
  if (fixing && isOpen(fixing.kind) !== (hole.bolt !== undefined))
    troubles.push({
      code: hole.bolt === undefined ? 'bolt-missing' : 'bolt-too-many',
      path: [...path, 'bolt'],
      expected:
        hole.bolt === undefined
          ? `the diameter of the bolt, since the fixing is a ${fixing.kind}`
          : `no bolt of its own, since the fixing is a ${fixing.kind}`,
      ...(hole.bolt !== undefined && { got: hole.bolt }),
    })
  if (hole.length !== undefined && hole.length < hole.diameter)
    troubles.push(slotTooShort([...path, 'length'], hole.diameter, hole.length))
  if (holeBeyond(hole, shape) > 1e-9)
    troubles.push({
      code: 'hole-off-plate',
      path: [...path, 'at'],
      expected: 'a hole that lies within the plate with its whole edge',
      got: hole.at ?? [0, 0],
    })
  return troubles
}
