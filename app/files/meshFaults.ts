import { bad, type Fault, type Outcome } from '../../core/fault.ts'
import type { TextScan } from './textScan.ts'

/** Faults that several readers share, so that the same trouble has the same name in every format. */
export const truncated = (expected: string, got: string): Outcome<never> =>
  bad({ code: 'mesh-truncated', expected, got })

export const tooManyTriangles = (limit: number, got: number | 'more'): Outcome<never> =>
  bad({ code: 'mesh-too-many-triangles', expected: `at most ${limit}`, got })

/** Vertices that no triangle could need: three a triangle are the most. */
export const tooManyVertices = (limit: number, got: number | 'more'): Outcome<never> =>
  bad({ code: 'mesh-too-many-vertices', expected: `at most ${limit}`, got })

export const noTriangles = (got: string): Outcome<never> =>
  bad({ code: 'mesh-no-triangles', expected: 'at least one triangle', got })

export const unsupported = (expected: string, got: string): Outcome<never> =>
  bad({ code: 'mesh-unsupported', expected, got })

export const wideText = (): Outcome<never> =>
  bad({ code: 'mesh-syntax', line: 1, expected: 'text in UTF-8 or ASCII', got: 'text in UTF-16' })

/** The word that the scan stands on is not what the format asks for. At the file's end: the file is cut off. */
export function unexpectedWord(scan: TextScan, expected: string): Outcome<never> {
  const fault: Fault = { code: 'mesh-syntax', line: scan.line, expected, got: scan.text() }
  if (scan.end > scan.start) return bad(fault)
  if (scan.ended) return bad({ code: 'mesh-truncated', line: scan.line, expected, got: 'the end of the file' })
  return bad({ ...fault, got: 'the end of the line' })
}

/**
 * A coordinate that is no finite number.
 * @param vertex counted from 0, as the file orders them
 * @param axis 0, 1, 2
 */
export const notFinite = (vertex: number, axis: number, got: unknown, line?: number): Outcome<never> =>
  bad({
    code: 'mesh-not-finite',
    item: `vertex ${vertex + 1}`,
    field: 'xyz'[axis],
    expected: 'a finite number',
    got: typeof got === 'number' ? String(got) : got,
    line,
  })

/**
 * A corner that names a vertex which is not there.
 * @param face counted from 1
 * @param allowed the indices that there are, in the format's own counting
 */
export const badIndex = (face: number, allowed: string, got: unknown, line?: number): Outcome<never> =>
  bad({ code: 'mesh-bad-index', item: `face ${face}`, expected: `a vertex index from ${allowed}`, got, line })
