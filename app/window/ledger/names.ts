import type { Bay, Candidate, Pipe } from '../../../core/bay/schema.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { words } from '../words.ts'

/** The pipe that a part belongs to: itself, a coupler or a clamp at one of its ends; null for all else. */
export function pipeOfPart(candidate: Candidate | null, part: string): Pipe | null {
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
export function partName(candidate: Candidate | null, part: string): string {
  const mount = candidate?.mounts?.find(({ id }) => part === `mount-${id}`)
  if (mount) return words.part.mount(mount.name)
  const pipe = pipeOfPart(candidate, part)
  const [, kind, end] = /^(pipe|coupler|clamp)-.*?(?:-(from|to)(?:-(?:port|pipe))?)?$/.exec(part) ?? []
  if (pipe && part === `pipe-${pipe.id}`) return words.part.pipe(pipe.name)
  if (pipe && kind === 'coupler') return words.part.coupler(pipe.name, end === 'from' ? 'from' : 'to')
  if (pipe) return words.part.clamp(pipe.name, end === 'from' ? 'from' : 'to', part.endsWith('-port') ? 'port' : 'pipe')
  return part.replaceAll('-', ' ')
}

/** A keep-out's name, with the side where it is a mirror image. */
export function keepOutName(bay: Bay | null, id: string): string {
  const own = bay?.keepOuts.find((keepOut) => keepOut.id === id)
  if (own) return own.name
  const source = bay?.keepOuts.find((keepOut) => `${keepOut.id}-mirror` === id)
  return source ? words.keepOut.mirrored(source.name) : id
}

/** The id of the keep-out that a row or a drawn solid belongs to, also for a mirror image. */
export function keepOutIdOf(bay: Bay | null, id: string): string | null {
  return bay?.keepOuts.find((keepOut) => keepOut.id === id || `${keepOut.id}-mirror` === id)?.id ?? null
}

/** Both sides of a row: the thing that is there, and the part. */
export function pairNames(
  bay: Bay | null,
  candidate: Candidate | null,
  pair: LedgerPair,
): { other: string; part: string } {
  const other = pair.between ? partName(candidate, pair.keepOut) : keepOutName(bay, pair.keepOut)
  return { other, part: partName(candidate, pair.part) }
}
