import packageJson from '../../package.json' with { type: 'json' }
import { printable } from '../../core/bay/printable.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { type ChangedFigure, changedFigures, type Json } from '../../core/sheet/facts/answer.ts'
import type { TravelSet } from '../sheet/travel.ts'

/** What can be held against each other of two sets. */
interface Told {
  readonly answer: Json
  readonly pages: readonly (readonly string[])[]
}

/** A line of a page that is not the same any more; null where one of the two has none. */
interface ChangedLine {
  /** From 1. */
  readonly page: number
  readonly line: number
  readonly before: string | null
  readonly after: string | null
}

export interface Comparison {
  readonly holds: boolean
  readonly candidate: string
  readonly date: string
  readonly program: { readonly before: string; readonly after: string }
  /** Numbers in the answer. */
  readonly figures: number
  readonly changed: readonly ChangedFigure[]
  readonly pages: { readonly before: number; readonly after: number }
  readonly lines: readonly ChangedLine[]
}

export function comparison({ candidate, program, settings }: TravelSet, then: Told, now: Told): Comparison {
  const { version } = packageJson
  const changed = changedFigures(then.answer, now.answer)
  // Who made it stands on every page; that it was another version is told once, and apart.
  const asNow = then.pages.map((lines) =>
    lines.map((line) => line.replaceAll(`Gapwright ${program}`, `Gapwright ${version}`)),
  )
  const lines = changedLines(asNow, now.pages)
  return {
    holds: changed.length === 0 && lines.length === 0,
    candidate,
    date: settings.date,
    program: { before: program, after: version },
    figures: numbersIn(now.answer),
    changed,
    pages: { before: then.pages.length, after: now.pages.length },
    lines,
  }
}

function changedLines(before: Told['pages'], after: Told['pages']): ChangedLine[] {
  const pages = Math.max(before.length, after.length)
  return Array.from({ length: pages }, (_, n) => {
    const [then, now] = [before[n] ?? [], after[n] ?? []]
    return Array.from({ length: Math.max(then.length, now.length) }, (_, k) => ({
      page: n + 1,
      line: k + 1,
      before: then[k] ?? null,
      after: now[k] ?? null,
    })).filter((line) => line.before !== line.after)
  }).flat()
}

function numbersIn(value: Json): number {
  if (typeof value === 'number') return 1
  if (typeof value !== 'object' || value === null) return 0
  return Object.values(value).reduce((sum: number, one) => sum + numbersIn(one as Json), 0)
}

/** More would bury the answer; --json has all. */
const mostTold = 20

export function againText(file: string, bay: Bay, compared: Comparison): string {
  const { candidate, date, program, figures, changed, pages, lines, holds } = compared
  const other =
    program.before === program.after ? '' : ` They were made by version ${program.before}; this is ${program.after}.`
  const head = `${file}: sheets of ${bay.name}, candidate ${candidate}, of ${date}.${other}`
  const said = holds
    ? [`Every number still holds: ${figures} figures and the text of ${pages.after} pages are the same.`]
    : [
        ...told(changed.length, 'figure', 'figures', changed.slice(0, mostTold).map(figureText)),
        ...(pages.before === pages.after ? [] : [`There are ${pages.after} pages now, and were ${pages.before}.`]),
        ...told(lines.length, 'line of text', 'lines of text', lines.slice(0, mostTold).map(lineText)),
      ]
  return `${[head, ...said].map(printable).join('\n')}\n`
}

function told(count: number, one: string, many: string, texts: readonly string[]): string[] {
  if (count === 0) return []
  const more = count > texts.length ? [`  and ${count - texts.length} more (--json tells all)`] : []
  return [`${count} ${count === 1 ? `${one} differs` : `${many} differ`}:`, ...texts, ...more]
}

const figureText = ({ path, before, after }: ChangedFigure): string =>
  `  ${path}: ${JSON.stringify(before)} then, ${JSON.stringify(after)} now`

const lineText = ({ page, line, before, after }: ChangedLine): string =>
  `  page ${page}, line ${line}: ${quoted(before)} then, ${quoted(after)} now`
const quoted = (line: string | null): string => (line === null ? 'nothing' : `“${line}”`)

export const againJson = (file: string, bay: Bay, { holds, ...rest }: Comparison): object => ({
  command: 'again',
  file,
  bay: { name: bay.name },
  answer: holds ? 'holds' : 'differs',
  ...rest,
})
