import { access } from 'node:fs/promises'
import { basename } from 'node:path'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'

export const bayEnding = '.bay.json'

/** `front` becomes `front.bay.json`; another ending would make a file that nobody takes for a bay. */
export function bayPathOf(file: string): Outcome<string> {
  const name = basename(file)
  if (name.endsWith(bayEnding) && name.length > bayEnding.length) return good(file)
  if (name === '' || name.startsWith('.') || name.includes('.'))
    return bad({
      code: 'usage-bad-value',
      file,
      expected: 'a name that ends in .bay.json',
      got: name === '' ? 'none' : name,
    })
  return good(file + bayEnding)
}

/** A fault where a file of that name is there and was not meant to be replaced. */
export async function alreadyThere(path: string): Promise<Fault[]> {
  const there = await access(path).then(
    () => true,
    () => false,
  )
  return there
    ? [{ code: 'file-exists', file: path, expected: '--force replaces it and keeps the former one as .bak' }]
    : []
}
