import fc from 'fast-check'
import { expect, test } from 'vitest'
import { jsonTroubles, lineAndColumn, placesOf } from './jsonText.ts'

const limits = { depth: 24, values: 100_000 }
const first = (text: string) => {
  const [trouble] = jsonTroubles(text, limits)
  return (
    trouble && { ...lineAndColumn(text, trouble.at), code: trouble.code, expected: trouble.expected, got: trouble.got }
  )
}

test.each<[what: string, text: string, line: number, column: number, expected: string, got: string]>([
  ['nothing', '', 1, 1, 'a value', 'the end of the file'],
  ['white space', ' \n ', 2, 2, 'a value', 'the end of the file'],
  ['cut short', '{"a": [1, 2', 1, 12, 'a comma or a closing bracket', 'the end of the file'],
  ['no comma', '{"a": 1\n "b": 2}', 2, 2, 'a comma or a closing brace', '"b": 2}'],
  ['comma too many', '{"a": [1, 2,]}', 1, 12, 'no comma before a closing bracket', ',]}'],
  ['no colon', '{"a" 1}', 1, 6, 'a colon after the field name', '1}'],
  ['bare name', '{a: 1}', 1, 2, 'a field name in double quotes', 'a: 1}'],
  ['single quotes', "{'a': 1}", 1, 2, 'a field name in double quotes', "'a': 1}"],
  ['comment', '{\r\n// note\r\n"a": 1}', 2, 1, 'a field name in double quotes', '// note'],
  ['open text', '{"a": "b\n}', 1, 9, 'a double quote that closes the text on the same line', 'a line break'],
  ['bad escape', '"\\x"', 1, 2, 'an escape such as \\\\ or \\n', '\\x"'],
  ['leading zero', '[012]', 1, 3, 'a number such as -12.5, without leading zeros', '12]'],
  ['leading point', '[.5]', 1, 2, 'a value', '.5]'],
  ['plus sign', '[+5]', 1, 2, 'a value', '+5]'],
  ['not a number', '[NaN]', 1, 2, 'a value', 'NaN]'],
  ['minus alone', '[-]', 1, 3, 'a number such as -12.5, without leading zeros', ']'],
  ['two values', '{} {}', 1, 4, 'the end of the file', '{}'],
])('%s: line, column, expected and got', (_, text, line, column, expected, got) => {
  expect(first(text)).toEqual({ code: 'broken-json', line, column, expected, got })
})

test('numbers that JSON.parse would bend, fields given twice and nesting without end are found', () => {
  const text = '{"a": 1e999, "b": {"c": -1e-999, "c": 0e-999}, "\\u0061": 2}'
  expect(jsonTroubles(text, limits).map(({ code, path, got }) => [code, path.join('.'), got])).toEqual([
    ['number-too-large', 'a', '1e999'],
    ['number-too-small', 'b.c', '-1e-999'],
    ['duplicate-field', 'b.c', 'c'],
    ['duplicate-field', 'a', 'a'],
  ])
  expect(first('['.repeat(100_000))?.code).toBe('nested-too-deep')
  expect(first(`[${'0,'.repeat(100_000)}0]`)?.code).toBe('too-many-values')
  expect(first(`["${'x'.repeat(5_000_000)}"]`)).toBeUndefined()
})

test('accepts exactly what JSON.parse accepts, on scraps and on damaged documents (seed 40)', () => {
  const scrap = fc.string({ unit: fc.constantFrom(...'{}[]:,"\\u0123-+.eE truefalsn\n'.split('')), maxLength: 12 })
  const damaged = fc
    .tuple(fc.json({ maxDepth: 4 }), fc.nat(), fc.constantFrom('', '"', ',', '}', ']', '0', '\\', '.'))
    .map(([text, at, piece]) => {
      const cut = at % (text.length + 1)
      return text.slice(0, cut) + piece + text.slice(cut + (at % 2))
    })
  let accepted = 0
  let refused = 0
  fc.assert(
    fc.property(fc.oneof(scrap, damaged, fc.json({ maxDepth: 4 })), (text) => {
      let parses = true
      try {
        JSON.parse(text)
      } catch {
        parses = false
      }
      if (parses) accepted++
      else refused++
      expect(jsonTroubles(text, limits).some((t) => t.code === 'broken-json')).toBe(!parses)
    }),
    { seed: 40, numRuns: 5000 },
  )
  expect(accepted).toBeGreaterThan(1000)
  expect(refused).toBeGreaterThan(1000)
})

test('places of fields, and of the parent where a field is missing', () => {
  const text = '{\n  "list": [\n    { "id": "a" },\n    { "id": "b", "x": [1, 2] }\n  ]\n}'
  const places = placesOf(text, [['list', 1, 'x', 1], ['list', 1, 'y'], ['none'], ['list', 0, 'id']], limits)
  expect(places.map((at) => lineAndColumn(text, at))).toEqual([
    { line: 4, column: 27 },
    { line: 4, column: 5 },
    { line: 1, column: 1 },
    { line: 3, column: 13 },
  ])
})
