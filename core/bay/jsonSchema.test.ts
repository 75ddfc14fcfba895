import { existsSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { bayJsonSchemaText } from './jsonSchema.ts'

test('assets/bay.schema.json is in step with the schema (else: node bin/schema.mjs)', () => {
  const committed = new URL('../../assets/bay.schema.json', import.meta.url)
  expect(existsSync(committed)).toBe(true)
  expect(readFileSync(committed, 'utf8')).toBe(bayJsonSchemaText())
})

test('it names every list of the bay, and refuses unknown fields', () => {
  const schema = JSON.parse(bayJsonSchemaText())
  expect(Object.keys(schema.properties)).toEqual([
    'format',
    'version',
    'name',
    'frame',
    'units',
    'keepOuts',
    'openings',
    'ports',
    'fixings',
    'candidates',
    'benders',
    'stock',
    'conditions',
  ])
  expect(schema.additionalProperties).toBe(false)
  expect(schema.required).toEqual(['format', 'version', 'name', 'frame', 'units', 'keepOuts', 'candidates'])
})
