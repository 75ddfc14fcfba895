import { bad, type Fault } from '../../core/fault.ts'
import { type PlyHeader, type Scalar, scalarBytes } from './plyHeader.ts'
import { TextScan } from './textScan.ts'

/**
 * The values of a PLY's data part one after the other, whether written as text or as bytes of either order.
 * `next` is NaN past the end and for words that are no number; `trouble` then says which.
 */
export interface PlyValues {
  next: (type: Scalar) => number
  /** Passes over values that nobody wants. */
  skip: (type: Scalar, count: number) => void
  /** Whether at least this many values of the type can still be there: asked before memory is taken. */
  hasRoom: (type: Scalar, count: number) => boolean
  /** What to say about a value that was not finite. */
  trouble: () => Fault
  /** Whether the last value lay past the end of the file. */
  readonly pastEnd: boolean
}

export function plyValues(bytes: Uint8Array, header: PlyHeader): PlyValues {
  return header.format === 'ascii' ? textValues(bytes, header) : byteValues(bytes, header)
}

function textValues(bytes: Uint8Array, header: PlyHeader): PlyValues {
  const scan = new TextScan(bytes, header.dataAt)
  scan.line = header.dataLine
  let pastEnd = false
  const step = () => {
    pastEnd = !scan.wordAnywhere()
    return !pastEnd
  }
  return {
    next: () => (step() ? scan.number() : Number.NaN),
    skip: (_type, count) => {
      for (let i = 0; i < count && step(); i++);
    },
    // A value takes a digit and a blank.
    hasRoom: (_type, count) => count * 2 <= bytes.length - scan.at + 1,
    trouble: () =>
      pastEnd
        ? { code: 'mesh-truncated', line: scan.line, expected: 'more values', got: 'the end of the file' }
        : { code: 'mesh-not-finite', line: scan.line, expected: 'a finite number', got: scan.text() },
    get pastEnd() {
      return pastEnd
    },
  }
}

function byteValues(bytes: Uint8Array, header: PlyHeader): PlyValues {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const little = header.format === 'little'
  let at = header.dataAt
  let pastEnd = false
  let last = 0
  const read: Record<Scalar, () => number> = {
    int8: () => view.getInt8(at),
    uint8: () => view.getUint8(at),
    int16: () => view.getInt16(at, little),
    uint16: () => view.getUint16(at, little),
    int32: () => view.getInt32(at, little),
    uint32: () => view.getUint32(at, little),
    float32: () => view.getFloat32(at, little),
    float64: () => view.getFloat64(at, little),
  }
  return {
    next: (type) => {
      const size = scalarBytes[type]
      pastEnd = at + size > bytes.length
      if (pastEnd) return Number.NaN
      last = read[type]()
      at += size
      return last
    },
    skip: (type, count) => {
      at += scalarBytes[type] * count
      pastEnd = at > bytes.length
    },
    hasRoom: (type, count) => count * scalarBytes[type] <= bytes.length - at,
    trouble: () =>
      pastEnd
        ? { code: 'mesh-truncated', expected: 'more values', got: `${bytes.length} bytes` }
        : { code: 'mesh-not-finite', expected: 'a finite number', got: String(last) },
    get pastEnd() {
      return pastEnd
    },
  }
}

/** Kept beside the values so that readers say it alike. */
export const plyTrouble = (values: PlyValues, where: Partial<Fault>) => bad({ ...values.trouble(), ...where })
