import { bad, type Fault, type Outcome } from '../../core/fault.ts'
import { glb } from './glb.ts'
import { inflate, isGzip } from './gzip.ts'
import { obj } from './obj.ts'
import { ply } from './ply.ts'
import { defaultLimits, type Importer, type RawMesh, type ReadLimits } from './rawMesh.ts'
import { stl } from './stl.ts'

/** Every mesh format that can be read. A new one is a file and a line here. */
export const importers: readonly Importer[] = [stl, obj, ply, glb]

/** Endings for dialogs and messages: 'stl', 'stl.gz' … */
export const meshExtensions: readonly string[] = importers.flatMap((i) => i.extensions.flatMap((e) => [e, `${e}.gz`]))

/**
 * Reads a mesh file by its name's ending; `.gz` behind it is inflated first.
 * @param name file name as the user knows it, put into every fault
 * @returns the triangles in the file's own numbers, and the format's name. Never throws, whatever the bytes: a file under
 *   another format's name, cut off, lying or over the limits gives a fault
 */
export async function readMesh(
  name: string,
  bytes: Uint8Array,
  limits: ReadLimits = defaultLimits,
): Promise<Outcome<RawMesh & { readonly format: string }>> {
  const refuse = (fault: Fault) => bad({ file: name, ...fault })
  const packed = /\.gz$/i.test(name)
  const extension = /\.([a-z0-9]+)$/i.exec(packed ? name.slice(0, -3) : name)?.[1].toLowerCase() ?? ''
  const importer = importers.find((i) => i.extensions.includes(extension))
  if (!importer)
    return refuse({ code: 'mesh-format-unknown', expected: listed(), got: extension ? `.${extension}` : 'no ending' })
  if (bytes.length > limits.bytes)
    return refuse({ code: 'mesh-too-big', expected: `at most ${limits.bytes} bytes`, got: `${bytes.length} bytes` })
  if (bytes.length === 0) return refuse({ code: 'mesh-empty-file', expected: `${importer.name} data`, got: '0 bytes' })
  if (packed !== isGzip(bytes))
    return refuse({
      code: 'mesh-format-mismatch',
      expected: packed ? 'gzip data' : `${importer.name} data`,
      got: packed ? 'other data' : 'gzip data (name it .gz)',
    })
  const plain = packed ? await inflate(bytes, limits.bytes) : { ok: true as const, value: bytes }
  if (!plain.ok) return withFile(name, plain.faults)
  const other = importers.find((i) => i !== importer && i.sniff(plain.value))
  if (other && !importer.sniff(plain.value))
    return refuse({ code: 'mesh-format-mismatch', expected: `${importer.name} data`, got: `${other.name} data` })
  const raw = readWithin(importer, plain.value, limits)
  return raw.ok ? { ok: true, value: { ...raw.value, format: importer.name } } : withFile(name, raw.faults)
}

/** A mesh within the limits can still be more than this machine has room for; that is a fault and not a crash. */
function readWithin(importer: Importer, bytes: Uint8Array, limits: ReadLimits): Outcome<RawMesh> {
  try {
    return importer.read(bytes, limits)
  } catch (error) {
    if (error instanceof RangeError)
      return bad({ code: 'mesh-no-memory', expected: 'a smaller mesh', got: error.message })
    throw error
  }
}

const withFile = (file: string, faults: readonly Fault[]): Outcome<never> => ({
  ok: false,
  faults: faults.map((f) => ({ file, ...f })),
})

const listed = () => importers.map((i) => `.${i.extensions[0]}`).join(', ')
