/**
 * Triangle mesh in its own frame, mm, already merged and checked (see `checkMesh`): indices in range,
 * coordinates finite, no zero-area triangle, no duplicate vertex. A closed mesh is turned outside out.
 */
export interface Mesh {
  /** x, y, z after each other, double precision. */
  readonly positions: Float64Array
  /** Three vertex indices a triangle, counter-clockwise seen from outside where closed. */
  readonly triangles: Uint32Array
  /** Every edge has exactly two triangles of consistent direction. */
  readonly closed: boolean
}
