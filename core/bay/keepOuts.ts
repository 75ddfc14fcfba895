import { bad, good } from '../fault.ts'
import type { Outcome } from '../fault.ts'
import type { Solid } from '../shape/form.ts'
import { mirroredSolid } from '../shape/mirror.ts'
import { solidOf } from '../shape/solid.ts'
import type { KeepOutSolid, Meshes } from './part.ts'
import type { Bay, KeepOut } from './schema.ts'
import { mirrorId } from './sense.ts'
import { troubleOf } from './shapeTroubles.ts'
import { toFaults } from './trouble.ts'
import { Workshop } from './workshop.ts'

/**
 * The keep-outs of a bay as solids, bay frame, mm; a mirrored one gives two. Those with `enabled: false` are left out.
 * @param meshes by the `file` that the bay names, as their readers gave them (in the file's own unit)
 * @param workshop keeps solids by content: an unchanged keep-out is the very same object again
 * @returns in the order of the bay. Faults of all keep-outs at once, among them 'mesh-missing'; none is left out in silence.
 */
export function keepOutSolids(
  bay: Bay,
  meshes: Meshes,
  workshop: Workshop = new Workshop(),
): Outcome<readonly KeepOutSolid[]> {
  const made = bay.keepOuts.map((keepOut) =>
    isLeftOut(keepOut) ? good<readonly KeepOutSolid[]>([]) : solidsOf(keepOut, meshes, workshop),
  )
  const troubles = made.flatMap((outcome, index) =>
    outcome.ok ? [] : outcome.faults.map((fault) => troubleOf(fault, ['keepOuts', index])),
  )
  return troubles.length > 0
    ? bad(...toFaults(troubles, bay, {}))
    : good(made.flatMap((outcome) => (outcome.ok ? outcome.value : [])))
}

function solidsOf(keepOut: KeepOut, meshes: Meshes, workshop: Workshop): Outcome<readonly KeepOutSolid[]> {
  const { shape } = keepOut
  const mesh = shape.kind === 'mesh' ? meshes.get(shape.file) : undefined
  const content = [shape, mesh ? workshop.numberOf(mesh) : null]
  const plain = workshop.make('keep-out', content, () => solidOf(shape, { meshes }))
  if (!plain.ok) return plain
  const one = (id: string, mirrored: boolean, solid: Solid): KeepOutSolid => ({ id, mirrored, keepOut, solid })
  if (!keepOut.mirror) return good([one(keepOut.id, false, plain.value)])
  const image = workshop.make('mirrored', content, () => mirroredSolid(plain.value))
  return good([one(keepOut.id, false, plain.value), one(mirrorId(keepOut.id), true, image)])
}

const isLeftOut = (keepOut: KeepOut): boolean => keepOut.enabled === false

/** Ids of the keep-outs that are switched off for a look, mirror images included: every answer names them. */
export const leftOutIds = (bay: Bay): string[] =>
  bay.keepOuts.filter(isLeftOut).flatMap(({ id, mirror }) => (mirror ? [id, mirrorId(id)] : [id]))
