import type { Bay, Candidate, Pipe } from '../../core/bay/schema.ts'
import { called } from './called.ts'

/** Parts and keep-outs as people call them, in the window and on the sheets alike. */

const endWords = { from: 'start', to: 'end' } as const

/** The pipe that a part belongs to: itself, a coupler or a clamp at one of its ends; null for all else. */
export function pipeOfPart(candidate: Pick<Candidate, 'pipes'> | null, part: string): Pipe | null {
  const owners = (candidate?.pipes ?? []).filter(
    ({ id }) =>
      part === `pipe-${id}` ||
      part === `coupler-${id}-from` ||
      part === `coupler-${id}-to` ||
      /^-(from|to)-(port|pipe)$/.test(part.replace(`clamp-${id}`, '')),
  )
  return owners[0] ?? null
}

/** A part as people call it: its pipe's name, or 'coupler of pipe Hot side, start', 'tank right', 'stub right cold'. */
export function partName(candidate: Pick<Candidate, 'pipes' | 'mounts'> | null, part: string): string {
  const mount = candidate?.mounts?.find(({ id }) => part === `mount-${id}`)
  if (mount) return called('mount', mount.name)
  const pipe = pipeOfPart(candidate, part)
  if (!pipe) return part.replaceAll('-', ' ')
  if (part === `pipe-${pipe.id}`) return called('pipe', pipe.name)
  const [, kind, end] = /^(coupler|clamp)-.*?(?:-(from|to)(?:-(?:port|pipe))?)?$/.exec(part) ?? []
  const where = `${kind} of ${pipe.name}, ${endWords[end === 'from' ? 'from' : 'to']}`
  return kind === 'coupler' ? where : `${where}, on the ${part.endsWith('-port') ? 'port' : 'pipe'}`
}

/** A keep-out's name, with the side where it is a mirror image. */
export function keepOutName(bay: Pick<Bay, 'keepOuts'> | null, id: string): string {
  const own = bay?.keepOuts.find((keepOut) => keepOut.id === id)
  if (own) return own.name
  const source = bay?.keepOuts.find((keepOut) => `${keepOut.id}-mirror` === id)
  return source ? mirroredName(source.name) : id
}

export const mirroredName = (name: string): string => `${name} (mirrored)`
