import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type ShapeKind, shapeSchema, shapes } from './registry.ts'

const kinds = Object.keys(shapes) as ShapeKind[]

describe('registry', () => {
  it('should name each shape as its file says', () => {
    for (const kind of kinds) expect(shapes[kind].kind).toBe(kind)
  })

  it('should have the same kinds in the table and in the schema', () => {
    expect(shapeSchema.options.map((option) => option.shape.kind.value).sort()).toEqual([...kinds].sort())
  })

  it('should have one contract kit call for every shape', () => {
    const tests = readdirSync(import.meta.dirname).filter((name) => name.endsWith('.test.ts'))
    const text = tests.map((name) => readFileSync(`${import.meta.dirname}/${name}`, 'utf8')).join('\n')
    const called = [...text.matchAll(/^everySolid\(\{\s*kind: '(\w+)'/gm)].map((match) => match[1])
    expect(called.sort()).toEqual([...kinds].sort())
  })

  it('should refuse an unknown kind', () => {
    expect(shapeSchema.safeParse({ kind: 'wedge', at: [0, 0, 0] }).success).toBe(false)
  })
})
