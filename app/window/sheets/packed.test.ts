import { unzipSync } from 'fflate'
import { expect, test } from 'vitest'
import { packed } from './packed.ts'

const files = [
  { name: 'sheets.pdf', bytes: new TextEncoder().encode('%PDF-1.7') },
  { name: 'tables/gaps.csv', bytes: new TextEncoder().encode('part,gap\r\n') },
]

test('what is packed comes out as it went in, under the same names; the same files make the same bytes', async () => {
  const bytes = await packed(files)
  expect(unzipSync(bytes)).toEqual(Object.fromEntries(files.map(({ name, bytes }) => [name, bytes])))
  expect(await packed(files)).toEqual(bytes)
  // The signature of the format. Source: its own note, section 4.3.7, from memory.
  expect([...bytes.subarray(0, 4)]).toEqual([0x50, 0x4b, 3, 4])
})
