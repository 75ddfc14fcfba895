import type { DrawnThing } from '../../../core/sheet/drawing/drawing.ts'
import { closedMesh, type ClosedMesh } from '../../../core/shape/closedMesh.ts'

/** How far facets may lie off round surfaces, mm. */
export const modelSag = 0.05

/** A part of the candidate as closed surfaces: one for each convex or round body that it is made of. */
export interface ModelPart {
  readonly name: string
  readonly shells: readonly ClosedMesh[]
}

/** The candidate's parts, in the order in which they are drawn; keep-outs are not part of it. */
export const modelParts = (things: readonly DrawnThing[]): ModelPart[] =>
  things
    .filter(({ role }) => role === 'part')
    .map(({ name, solid }) => ({ name, shells: solid.forms.flatMap((form) => closedMesh(form, modelSag) ?? []) }))

const headBytes = 80
const triangleBytes = 50

/**
 * The candidate as binary STL, mm, in the bay's axes (X rearward, Y right, Z up).
 *
 * Every part is closed; parts that go into one another (a hose over a tube) overlap, and are not joined into one surface.
 * The head does not begin with `solid`, which readers take for text, and says the unit, which the format has no place for.
 */
export function candidateStl(things: readonly DrawnThing[]): Uint8Array {
  const shells = modelParts(things).flatMap((part) => part.shells)
  const count = shells.reduce((sum, { triangles }) => sum + triangles.length / 3, 0)
  const bytes = new Uint8Array(headBytes + 4 + triangleBytes * count)
  bytes.set(new TextEncoder().encode('Gapwright, mm, X rearward, Y right, Z up').subarray(0, headBytes))
  const view = new DataView(bytes.buffer)
  view.setUint32(headBytes, count, true)
  let at = headBytes + 4
  for (const shell of shells)
    for (let i = 0; i < shell.triangles.length; i += 3) {
      writeTriangle(view, at, shell, i)
      at += triangleBytes
    }
  return bytes
}

function writeTriangle(view: DataView, at: number, { positions, triangles }: ClosedMesh, first: number): void {
  const corners = [0, 1, 2].map((c) => positions.subarray(3 * triangles[first + c], 3 * triangles[first + c] + 3))
  const numbers = [...normalOf(corners), ...corners.flatMap((corner) => [...corner])]
  numbers.forEach((x, k) => {
    view.setFloat32(at + 4 * k, x, true)
  })
}

function normalOf([a, b, c]: readonly Float64Array[]): number[] {
  const [u, v] = [b, c].map((corner) => corner.map((x, k) => x - a[k]))
  const normal = [0, 1, 2].map((k) => u[(k + 1) % 3] * v[(k + 2) % 3] - u[(k + 2) % 3] * v[(k + 1) % 3])
  const long = Math.hypot(...normal)
  return long > 0 ? normal.map((x) => x / long) : [0, 0, 0]
}
