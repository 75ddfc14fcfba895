import { wrapped } from './table.ts'

export type Fact = readonly [name: string, fact: string]

/** Names in a column, facts beside them, broken to the width. A fact's own line breaks stay. */
export function factsText(facts: readonly Fact[], columns: number | undefined): string {
  const beside = 2 + Math.max(...facts.map(([name]) => name.length))
  const indent = ' '.repeat(beside)
  return facts
    .map(([name, fact]) => {
      const lines = fact.split('\n').map((line) => wrapped(line, (columns ?? 100) - beside))
      return name.padEnd(beside) + lines.join('\n').replaceAll('\n', `\n${indent}`)
    })
    .join('\n')
}
