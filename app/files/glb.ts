import { bad, good, type Outcome } from '../../core/fault.ts'
import { type GlbJson, glbJsonSchema } from './glbJson.ts'
import { collectTriangles } from './glbScene.ts'
import { truncated, unsupported } from './meshFaults.ts'
import type { Importer, RawMesh, ReadLimits } from './rawMesh.ts'

/*
 * Own reader and not @gltf-transform/core: that one answers a cut or lying file with "Invalid typed array length", and
 * trusts indices. It is used in the tests, where it writes the files that this one reads.
 */

const magic = 0x46546c67
const jsonChunk = 0x4e4f534a
const binChunk = 0x004e4942
const deepestJson = 64

export const glb: Importer = {
  name: 'GLB',
  extensions: ['glb'],
  sniff: (bytes) => bytes.length >= 4 && view(bytes).getUint32(0, true) === magic,
  read: readGlb,
}

/**
 * Reads the triangles of a binary glTF 2.0: the default scene's meshes with their nodes' transforms, joined to one mesh.
 * Numbers are metres by the standard and come out as they are; the bay names the unit. Axes are left as they are.
 * Everything must lie in the file itself: nothing is ever fetched. Lines and points carry no surface and are passed over.
 */
function readGlb(bytes: Uint8Array, limits: ReadLimits): Outcome<RawMesh> {
  const chunks = splitChunks(bytes)
  if (!chunks.ok) return chunks
  const json = parseJson(chunks.value.json)
  if (!json.ok) return json
  const refused = refuseWhatWeCannotRead(json.value, chunks.value.bin)
  return refused ?? collectTriangles(json.value, chunks.value.bin, limits)
}

function splitChunks(bytes: Uint8Array): Outcome<{ json: Uint8Array; bin: Uint8Array }> {
  if (bytes.length < 20) return truncated('at least 20 bytes', `${bytes.length} bytes`)
  const data = view(bytes)
  if (data.getUint32(0, true) !== magic)
    return bad({ code: 'mesh-syntax', field: 'header', expected: "'glTF' at the start", got: 'other bytes' })
  if (data.getUint32(4, true) !== 2) return unsupported('binary glTF version 2', `version ${data.getUint32(4, true)}`)
  const declared = data.getUint32(8, true)
  if (declared !== bytes.length)
    return bad({
      code: declared > bytes.length ? 'mesh-truncated' : 'mesh-lying-header',
      field: 'header',
      expected: `${declared} bytes, as the header says`,
      got: `${bytes.length} bytes`,
    })
  const jsonEnd = 20 + data.getUint32(12, true)
  if (data.getUint32(16, true) !== jsonChunk || jsonEnd > bytes.length)
    return bad({ code: 'mesh-lying-header', field: 'header', expected: 'a JSON chunk within the file', got: 'none' })
  const json = bytes.subarray(20, jsonEnd)
  const bin = secondChunk(bytes, jsonEnd)
  return bin ? good({ json, bin }) : truncated('a data chunk within the file', 'one that reaches beyond it')
}

/** The data chunk; empty where there is none (or another kind), null where it is cut off. */
function secondChunk(bytes: Uint8Array, at: number): Uint8Array | null {
  if (at + 8 > bytes.length) return bytes.subarray(0, 0)
  const data = view(bytes)
  const end = at + 8 + data.getUint32(at, true)
  if (data.getUint32(at + 4, true) !== binChunk) return bytes.subarray(0, 0)
  return end <= bytes.length ? bytes.subarray(at + 8, end) : null
}

function parseJson(bytes: Uint8Array): Outcome<GlbJson> {
  const wrong = (got: string) => bad({ code: 'mesh-syntax', field: 'JSON chunk', expected: 'glTF 2.0 JSON', got })
  if (tooDeep(bytes)) return wrong(`lists and objects more than ${deepestJson} deep`)
  let raw: unknown
  try {
    raw = JSON.parse(new TextDecoder().decode(bytes))
  } catch {
    return wrong('text that is not JSON')
  }
  const parsed = glbJsonSchema.safeParse(raw)
  if (parsed.success) return good(parsed.data)
  const issue = parsed.error.issues[0]
  return bad({ code: 'mesh-syntax', field: issue.path.join('.'), expected: 'a glTF 2.0 value', got: issue.message })
}

/** Brackets inside strings count too: this may only refuse too much, and 64 is far above any real file. */
function tooDeep(bytes: Uint8Array): boolean {
  let depth = 0
  for (const b of bytes) {
    if (b === 0x5b || b === 0x7b) depth++
    if (b === 0x5d || b === 0x7d) depth--
    if (depth > deepestJson) return true
  }
  return false
}

/** Extensions that change looks only, and the one that only allows shorter number types. */
const harmless = /^KHR_(materials_|texture_|lights_punctual|mesh_quantization)/

function refuseWhatWeCannotRead(json: GlbJson, bin: Uint8Array): Outcome<never> | null {
  const extension = json.extensionsRequired?.find((name) => !harmless.test(name))
  if (extension) return unsupported('triangles as plain numbers', `the extension ${extension.slice(0, 60)}`)
  for (const [i, buffer] of (json.buffers ?? []).entries()) {
    if (buffer.uri !== undefined)
      return bad({
        code: 'mesh-external',
        field: `buffers[${i}].uri`,
        expected: 'all data inside the file',
        got: buffer.uri.slice(0, 60),
      })
    if (i > 0) return unsupported('one buffer', `${json.buffers?.length}`)
    if (buffer.byteLength > bin.length)
      return truncated(`${buffer.byteLength} bytes of data`, `${bin.length} bytes in the data chunk`)
  }
  return null
}

const view = (bytes: Uint8Array) => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
