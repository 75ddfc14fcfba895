import { bad, good, type Outcome } from '../../core/fault.ts'
import type { GlbJson } from './glbJson.ts'
import { truncated, unsupported } from './meshFaults.ts'

interface Component {
  readonly bytes: number
  readonly read: (data: DataView, at: number) => number
  /** Divisor of a normalised integer; 0 for floats. */
  readonly full: number
}
const components: Record<number, Component> = {
  5120: { bytes: 1, read: (d, at) => d.getInt8(at), full: 127 },
  5121: { bytes: 1, read: (d, at) => d.getUint8(at), full: 255 },
  5122: { bytes: 2, read: (d, at) => d.getInt16(at, true), full: 32767 },
  5123: { bytes: 2, read: (d, at) => d.getUint16(at, true), full: 65535 },
  5125: { bytes: 4, read: (d, at) => d.getUint32(at, true), full: 0 },
  5126: { bytes: 4, read: (d, at) => d.getFloat32(at, true), full: 0 },
}
const widths = { SCALAR: 1, VEC3: 3 }

/**
 * The numbers of one accessor, after each other.
 * Its place in the buffer is checked before anything is read; a position that is not finite is named.
 * @param most largest count taken
 */
export function readElements(
  json: GlbJson,
  bin: Uint8Array,
  index: number,
  type: keyof typeof widths,
  most: number,
): Outcome<Float64Array> {
  const field = `accessors[${index}]`
  const accessor = json.accessors?.[index]
  if (!accessor) return bad({ code: 'mesh-syntax', field, expected: 'an accessor of the file', got: 'none' })
  const component = components[accessor.componentType]
  if (accessor.type !== type || !component)
    return bad({
      code: 'mesh-syntax',
      field,
      expected: `${type} of a glTF number type`,
      got: `${accessor.type.slice(0, 20)} of ${accessor.componentType}`,
    })
  if (accessor.sparse !== undefined || accessor.bufferView === undefined)
    return unsupported('positions and indices given in full', `sparse or empty ${field}`)
  const bufferView = json.bufferViews?.[accessor.bufferView]
  if (bufferView?.buffer !== 0)
    return bad({
      code: 'mesh-syntax',
      field: `${field}.bufferView`,
      expected: 'a view of the file’s own data',
      got: accessor.bufferView,
    })
  if (accessor.count > most)
    return bad({ code: 'mesh-too-big', field, expected: `at most ${most} elements`, got: accessor.count })
  const width = widths[type]
  const stride = bufferView.byteStride ?? width * component.bytes
  const inView = accessor.byteOffset ?? 0
  const start = (bufferView.byteOffset ?? 0) + inView
  const reach = accessor.count === 0 ? 0 : (accessor.count - 1) * stride + width * component.bytes
  if (inView + reach > bufferView.byteLength || start + reach > bin.length)
    return truncated(`${accessor.count} elements in ${field}`, 'a view that ends before them')
  const data = new DataView(bin.buffer, bin.byteOffset, bin.byteLength)
  const values = new Float64Array(accessor.count * width)
  const divisor = accessor.normalized ? component.full : 0
  for (let i = 0; i < values.length; i++) {
    const raw = component.read(data, start + Math.floor(i / width) * stride + (i % width) * component.bytes)
    // Signed normalised integers: the lowest one counts as −1 too (glTF 2.0, section 3.11).
    values[i] = divisor > 0 ? Math.max(raw / divisor, -1) : raw
    if (!Number.isFinite(values[i]))
      return bad({
        code: 'mesh-not-finite',
        item: `vertex ${Math.floor(i / width) + 1}`,
        field,
        expected: 'a finite number',
        got: String(raw),
      })
  }
  return good(values)
}
