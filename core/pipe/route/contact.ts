/**
 * Where a segment comes nearest to a body, or lies deepest in it. Lengths mm, bay frame.
 * Apart, `distance` is the distance of the two points named (of a tube's bend, by up to 0.1 mm more than the least).
 * Where they meet it is minus the depth of the deepest of a few points: a way out, not a bound.
 */
export interface Contact {
  distance: number
  /** Proved: the distance is no less; 0 where they may meet. */
  atLeast: number
  /** Share 0 … 1 of the segment. */
  share: number
  /** Unit, the way from the body to the segment. */
  nx: number
  ny: number
  nz: number
  /** The body's point. */
  qx: number
  qy: number
  qz: number
}

export const emptyContact = (): Contact => ({
  distance: 0,
  atLeast: 0,
  share: 0,
  nx: 0,
  ny: 0,
  nz: 1,
  qx: 0,
  qy: 0,
  qz: 0,
})

/** A segment a–b. */
export interface Segment {
  ax: number
  ay: number
  az: number
  bx: number
  by: number
  bz: number
}

/** Writes two points, the first of the segment, that are `distance` > 0 apart. */
export function apart(
  out: Contact,
  s: Segment,
  distance: number,
  atLeast: number,
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
): void {
  const vx = s.bx - s.ax
  const vy = s.by - s.ay
  const vz = s.bz - s.az
  const vv = vx * vx + vy * vy + vz * vz
  const share = vv > 0 ? ((ax - s.ax) * vx + (ay - s.ay) * vy + (az - s.az) * vz) / vv : 0
  out.distance = distance
  out.atLeast = Math.max(0, Math.min(atLeast, distance))
  out.share = Math.min(1, Math.max(0, share))
  out.nx = (ax - bx) / distance
  out.ny = (ay - by) / distance
  out.nz = (az - bz) / distance
  out.qx = bx
  out.qy = by
  out.qz = bz
}

/** Writes the share, the way out, and the body's point from them. */
export function place(
  s: Segment,
  share: number,
  distance: number,
  nx: number,
  ny: number,
  nz: number,
  out: Contact,
): void {
  out.distance = distance
  out.share = share
  out.nx = nx
  out.ny = ny
  out.nz = nz
  out.qx = s.ax + share * (s.bx - s.ax) - distance * nx
  out.qy = s.ay + share * (s.by - s.ay) - distance * ny
  out.qz = s.az + share * (s.bz - s.az) - distance * nz
}
