import { spawnSync } from 'node:child_process'
import { deflateSync, inflateSync } from 'node:zlib'

/** Poppler's tools: a reader of PDF that has nothing to do with the one that we use. Null where they are not installed. */
export function poppler(tool: 'pdftotext' | 'pdfinfo' | 'pdffonts' | 'pdfdetach', ...args: string[]): string | null {
  const { status, stdout, error } = spawnSync(tool, args, { encoding: 'utf8', maxBuffer: 2 ** 26 })
  return error || status !== 0 ? null : stdout
}
export const hasPoppler = !spawnSync('pdfinfo', ['-v']).error

/** A page as a picture, PNG; null where poppler is not installed. */
export function pageAsPng(file: string, page: number, dpi: number): Buffer | null {
  const { status, stdout, error } = spawnSync(
    'pdftoppm',
    ['-png', '-r', String(dpi), '-f', String(page), '-l', String(page), '-singlefile', file],
    { maxBuffer: 2 ** 26 },
  )
  return error || status !== 0 ? null : stdout
}

/**
 * Changes what is packed in a PDF and leaves everything else where it lies, as a forger with a little patience would.
 * @param change gets each unpacked stream as Latin-1; null leaves it as it is
 * @returns the PDF and how many streams were changed. What grows when packed again is refused.
 */
export function repacked(
  pdf: Uint8Array,
  change: (stream: string) => string | null,
): { readonly bytes: Buffer; readonly changed: number } {
  const bytes = Buffer.from(pdf)
  let changed = 0
  for (let at = bytes.indexOf('\nstream\n'); at >= 0; at = bytes.indexOf('\nstream\n', at + 1)) {
    const begin = at + '\nstream\n'.length
    const length = bytes.indexOf('\nendstream', begin) - begin
    const now = unpacked(bytes.subarray(begin, begin + length))
    const wanted = now === null ? null : change(now)
    if (wanted === null) continue
    const packed = deflateSync(Buffer.from(wanted, 'latin1'), { level: 9, memLevel: 9 })
    if (packed.length > length) throw new Error(`${packed.length} bytes do not fit into ${length}`)
    bytes.fill(0, begin, begin + length)
    packed.copy(bytes, begin)
    changed++
  }
  return { bytes, changed }
}

function unpacked(stream: Buffer): string | null {
  try {
    return inflateSync(stream).toString('latin1')
  } catch {
    return null
  }
}

/** Replaces words outside of what is packed, letter for letter. */
export function reworded(pdf: Uint8Array, from: string, to: string): Buffer {
  if (from.length !== to.length) throw new Error('places in a PDF are counted in bytes')
  const bytes = Buffer.from(pdf)
  for (let at = bytes.indexOf(from); at >= 0; at = bytes.indexOf(from, at + 1)) bytes.write(to, at, 'latin1')
  return bytes
}
