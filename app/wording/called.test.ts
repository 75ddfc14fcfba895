import { expect, test } from 'vitest'
import { called } from './called.ts'

test.each([
  ['pipe', 'Hot side', 'pipe Hot side'],
  ['pipe', 'Pipe 1', 'Pipe 1'],
  ['Pipe', 'cold pipe', 'cold pipe'],
  ['pipe', 'Pipework', 'pipe Pipework'],
])('a %s of the name %s is %s', (kind, name, said) => expect(called(kind, name)).toBe(said))
