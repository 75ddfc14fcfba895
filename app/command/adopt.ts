import { candidateParts } from '../../core/bay/parts.ts'
import type { Bay, Candidate } from '../../core/bay/schema.ts'
import { writeBay } from '../../core/bay/write.ts'
import { good, type Outcome } from '../../core/fault.ts'
import { type OpenBay, sameMeshesBeside } from '../files/bayFolder.ts'
import { saveAtomically } from '../files/saveAtomically.ts'
import { alreadyThere, bayPathOf } from './bayPath.ts'

/** Where an answer is to be adopted, as the user said. */
export interface AdoptOptions {
  readonly adopt?: string
  readonly force?: boolean
}

/**
 * Where to write, looked at before anything is computed; null where nobody asked.
 * Faults: a name that is no bay's, 'file-exists' without --force, meshes that would not be the same beside it.
 */
export async function adoptionPath(
  bayPath: string,
  { meshSha256 }: Pick<OpenBay, 'meshSha256'>,
  { adopt, force }: AdoptOptions,
): Promise<Outcome<string | null>> {
  if (adopt === undefined) return good(null)
  const path = bayPathOf(adopt)
  if (!path.ok) return path
  const there = force ? [] : await alreadyThere(path.value)
  if (there.length > 0) return { ok: false, faults: there }
  const meshes = await sameMeshesBeside(bayPath, path.value, meshSha256)
  return meshes.ok ? path : meshes
}

/** The answer under an id and a name of its own, so that it can stand in the bay beside what it came from. */
export function renamed({ candidates }: Bay, candidate: Candidate, what: 'placed' | 'largest'): Candidate {
  const taken = new Set(candidates.map(({ id }) => id))
  const plain = `${candidate.id}-${what}`
  let id = plain
  for (let n = 2; taken.has(id); n++) id = `${plain}-${n}`
  const suffix = id.slice(candidate.id.length + 1).replace('-', ' ')
  return { ...candidate, id, name: `${[...candidate.name].slice(0, 180).join('')}, ${suffix}` }
}

/** Writes the bay with the candidate before all others: it is the one that is meant where none is named. */
export const adopt = (bay: Bay, candidate: Candidate, path: string): Promise<Outcome<string>> =>
  saveAtomically(path, writeBay({ ...bay, candidates: [candidate, ...bay.candidates] }))

/** Pipes that an answer leaves without a way: `check` will name the same. */
export function unroutedOf(bay: Bay, candidate: Candidate): readonly string[] {
  const made = candidateParts(bay, candidate)
  return made.ok ? made.value.unrouted : (candidate.pipes ?? []).map(({ id }) => id)
}
