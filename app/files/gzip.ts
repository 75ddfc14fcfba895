import { bad, good, type Outcome } from '../../core/fault.ts'

/*
 * The platform's own inflater: in Node and in browsers alike, native, and no library to carry. It works in pieces, so
 * that a small file which inflates without end is stopped at the limit instead of filling memory.
 */

export const isGzip = (bytes: Uint8Array): boolean => bytes[0] === 0x1f && bytes[1] === 0x8b

/**
 * Inflates gzip bytes.
 * @param limit most bytes that may come out; one more is a fault 'gzip-too-big'
 * @returns the bytes, or 'gzip-broken' for anything that is not whole gzip (its checksum is checked)
 */
export async function inflate(bytes: Uint8Array, limit: number): Promise<Outcome<Uint8Array<ArrayBuffer>>> {
  const pieces: Uint8Array[] = []
  let length = 0
  const reader = inBlob(bytes).stream().pipeThrough(new DecompressionStream('gzip')).getReader()
  try {
    for (let piece = await reader.read(); !piece.done; piece = await reader.read()) {
      length += piece.value.length
      if (length > limit) {
        await reader.cancel()
        return bad({ code: 'gzip-too-big', expected: `at most ${limit} bytes after inflation`, got: 'more' })
      }
      pieces.push(piece.value)
    }
  } catch {
    return bad({ code: 'gzip-broken', expected: 'whole gzip data', got: `${bytes.length} bytes that do not inflate` })
  }
  const whole = new Uint8Array(length)
  let at = 0
  for (const piece of pieces) {
    whole.set(piece, at)
    at += piece.length
  }
  return good(whole)
}

const inBlob = (bytes: Uint8Array) => new Blob([bytes as Uint8Array<ArrayBuffer>])
