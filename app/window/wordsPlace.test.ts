import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { parseSync } from 'vite'
import { describe, expect, test } from 'vitest'
import { type Explains, explainWords } from './explainWords.ts'

const folder = import.meta.dirname
const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((file) => file.replaceAll('\\', '/'))
const textOf = (file: string): string => readFileSync(join(folder, file), 'utf8')

/** Two letters side by side, in any script: marks, signs and single letters are no sentence. */
const isWord = (text: string): boolean => /\p{L}{2}/u.test(text)
/** Attributes that people read or hear. */
const told = [
  'aria-label',
  'aria-description',
  'aria-valuetext',
  'aria-roledescription',
  'title',
  'placeholder',
  'alt',
  'label',
]

interface Node {
  readonly type: string
  readonly [key: string]: unknown
}
const isNode = (value: unknown): value is Node => typeof (value as Node | null)?.type === 'string'

/** Every word that stands bare in the page's text or in an attribute that is told. */
function bareWords(file: string, source: string): string[] {
  const bare: string[] = []
  const literalIn = (value: unknown): string | null => {
    if (!isNode(value)) return null
    if (value.type === 'Literal' && typeof value.value === 'string') return value.value
    if (value.type === 'JSXExpressionContainer') return literalIn(value.expression)
    if (value.type === 'TemplateLiteral')
      return (value.quasis as { value: { cooked: string } }[]).map((part) => part.value.cooked).join(' ')
    if (value.type === 'ConditionalExpression')
      return [literalIn(value.consequent), literalIn(value.alternate)].filter((text) => text !== null).join(' ')
    if (value.type === 'LogicalExpression') return literalIn(value.right)
    return null
  }
  const note = (text: string | null) => text !== null && isWord(text) && bare.push(`${file}: ${text.trim()}`)
  const walk = (value: unknown): void => {
    if (Array.isArray(value)) for (const each of value) walk(each)
    if (!isNode(value)) return
    if (value.type === 'JSXText') note(value.value as string)
    if (value.type === 'JSXAttribute' && told.includes(String((value.name as Node).name))) note(literalIn(value.value))
    if (value.type === 'JSXElement' || value.type === 'JSXFragment')
      for (const child of value.children as Node[]) if (child.type === 'JSXExpressionContainer') note(literalIn(child))
    for (const each of Object.values(value)) if (typeof each === 'object') walk(each)
  }
  walk(parseSync(file, source).program)
  return bare
}

describe('words stand in one place', () => {
  test('no word stands bare in a component', () => {
    const components = files.filter((file) => file.endsWith('.tsx'))
    expect(components.length).toBeGreaterThan(40)
    expect(components.flatMap((file) => bareWords(file, textOf(file)))).toEqual([])
  })

  test.each([
    ['<p>Some text</p>', 'x.tsx: Some text'],
    ['<p title="A title" />', 'x.tsx: A title'],
    ["<p>{'in braces'}</p>", 'x.tsx: in braces'],
    ["<p>{on ? 'either' : 'or'}</p>", 'x.tsx: either or'],
    ["<p>{on && 'perhaps'}</p>", 'x.tsx: perhaps'],
    // biome-ignore lint/suspicious/noTemplateCurlyInString: it is the source of a template
    ['<p aria-label={`number ${n}`} />', 'x.tsx: number'],
  ])('%s is found', (source, found) => expect(bareWords('x.tsx', `const a = ${source}`)).toEqual([found]))

  test('marks, class names and words from elsewhere are let through', () => {
    const source = 'const a = <p className="some class" data-x="yes">✕ · {words.a} ({n})</p>'
    expect(bareWords('x.tsx', source)).toEqual([])
  })

  test('files of words stand side by side beside words.ts, where a second language would stand', () => {
    const wordFiles = files.filter((file) => /Words\.ts$/.test(file))
    expect(wordFiles.length).toBeGreaterThan(6)
    expect(wordFiles.filter((file) => file.includes('/'))).toEqual([])
  })
})

describe('numbers explain themselves', () => {
  const names = Object.keys(explainWords) as Explains[]

  test.each(names)('%s: what it is, its unit, how it was made and its error, in whole sentences', (name) => {
    for (const sentence of Object.values(explainWords[name])) expect(sentence).toMatch(/^\p{Lu}.{8,}\.$/u)
  })

  test('each is said somewhere in the window', () => {
    const sources = files.filter((file) => file.endsWith('.tsx')).map(textOf)
    const said = (name: string) =>
      sources.some((text) =>
        new RegExp(`(name|explains|data-explains)="${name}"|, '${name}'\\]|: '${name}'[,}]`).test(text),
      )
    expect(names.filter((name) => !said(name))).toEqual([])
  })
})
