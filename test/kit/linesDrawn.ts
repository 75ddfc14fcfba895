type Matrix = readonly [number, number, number, number, number, number]

/** A straight line as it comes out on a page, in units of its user space (1/72 inch). */
export interface LineDrawn {
  /** From 1. */
  readonly page: number
  readonly length: number
}

/** First what is nearer to the drawing, then what is nearer to the page. */
const then = ([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix => [
  a * g + b * i,
  a * h + b * j,
  c * g + d * i,
  c * h + d * j,
  e * g + f * i + k,
  e * h + f * j + l,
]

/** Every path of one straight line in a PDF, as its pages' operators draw it. */
export async function linesDrawn(pdf: Uint8Array): Promise<LineDrawn[]> {
  const { getDocument, OPS } = await import('pdfjs-dist/legacy/build/pdf.mjs')
  const document = await getDocument({ data: pdf.slice(), isEvalSupported: false, verbosity: 0 }).promise
  const lines: LineDrawn[] = []
  for (let page = 1; page <= document.numPages; page++) {
    const { fnArray, argsArray } = await (await document.getPage(page)).getOperatorList()
    const kept: Matrix[] = []
    let now: Matrix = [1, 0, 0, 1, 0, 0]
    fnArray.forEach((operator, n) => {
      if (operator === OPS.save) kept.push(now)
      else if (operator === OPS.restore) now = kept.pop() ?? now
      else if (operator === OPS.transform) now = then(argsArray[n] as Matrix, now)
      else if (operator === OPS.constructPath) {
        const length = straight(argsArray[n], now)
        if (length !== null) lines.push({ page, length })
      }
    })
  }
  await document.destroy()
  return lines
}

/** @param args operator, path as one list (0 x y: move, 1 x y: line), bounds */
function straight(args: [unknown, [Float32Array | null], unknown], [a, b, c, d]: Matrix): number | null {
  const path = args[1][0]
  if (path?.length !== 6 || path[0] !== 0 || path[3] !== 1) return null
  const [dx, dy] = [path[4] - path[1], path[5] - path[2]]
  return Math.hypot(a * dx + c * dy, b * dx + d * dy)
}
