import type { Candidate } from '../bay/schema.ts'
import { mountTolerance } from '../bay/mountParts.ts'
import { sides } from '../bay/tankPort.ts'
import { type Vec3, cross, dot, scale, squareTo, turnedBack, unit } from '../shape/vec.ts'
import { lowestOfPin, mountCorners } from './mountPieces.ts'
import { corePiece, portSides, rootSide, stubAxis, tankPiece } from './partBodies.ts'
import { type Piece, type Side, side } from './pieces.ts'
import type { Asked } from './asking.ts'
import type { View } from './view.ts'
import type { Wall } from './wall.ts'

/** A region along the bay's axes, mm. */
export interface Region {
  readonly min: readonly [number, number, number]
  readonly max: readonly [number, number, number]
}

const axes: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]

/** Half-spaces as walls: each part's lowest corners stay as far from the plane as asked. */
export function halfSpaceWalls(candidate: Candidate, asked: readonly Asked[], view: View, extra: number): Wall[] {
  return asked.flatMap(({ keepOut, apart, except = [] }, number) =>
    keepOut.solid.forms.flatMap((form) => {
      if (form.form !== 'halfSpace') return []
      const least = dot(form.normal, form.point) + apart + extra
      return [
        ...wallsBefore(candidate, form.normal, least, view, number),
        ...mountWalls(candidate, form.normal, least, view, number, except),
      ]
    }),
  )
}

/** The core stays in a region with all its corners. */
export const regionWalls = (candidate: Candidate, region: Region, view: View): Wall[] =>
  axes.flatMap((axis, k) =>
    [1, -1].flatMap((sign) => {
      const direction = scale(axis, sign)
      const least = sign > 0 ? region.min[k] : -region.max[k]
      const corners = lowestCorners(corePiece(candidate), direction, view)
      return corners.map((point): Wall => ({ from: 'withinBox', part: 'core', direction, point, least }))
    }),
  )

/** The core's middle stays in a region. */
export function centreWalls(region: Region): Wall[] {
  const middle = side(0.5, 0.5, 0)
  const point = [middle, middle, middle] as const
  const wall = (direction: Vec3, least: number): Wall => ({ from: 'centre', part: 'core', direction, point, least })
  return axes.flatMap((axis, k) => [wall(axis, region.min[k]), wall(scale(axis, -1), -region.max[k])])
}

/** The core's middle lies on the car's centre line. */
export function symmetryWalls(): Wall[] {
  const middle = side(0.5, 0.5, 0)
  const point = [middle, middle, middle] as const
  return [1, -1].map((sign) => ({ from: 'symmetric', part: 'core', direction: [0, sign, 0], point, least: 0 }))
}

function wallsBefore(candidate: Candidate, direction: Vec3, least: number, view: View, from: number): Wall[] {
  const boxes: Piece[] = [corePiece(candidate)]
  const walls: Wall[] = []
  for (const which of sides) {
    const tank = candidate.tanks?.[which]
    if (!tank) continue
    // The tank is the hull of its foot and its far end.
    boxes.push(tankPiece(candidate, which, 0), tankPiece(candidate, which, 1))
    ;(tank.ports ?? []).forEach(({ id, length, outsideDiameter }, port) => {
      const seen = turnedBack(view.turn, direction)
      const axis = stubAxis(candidate, which, port)
      const lowest = lowestOfStub(seen, axis, length, outsideDiameter / 2)
      const begins = dot(seen, axis) >= 0
      const point = portSides(candidate, which, port).map((s, k) => {
        const at = begins && Math.abs(axis[k]) > 1 - 1e-15 ? rootSide(candidate, which, port, k, s) : s
        return side(at.onLow, at.onHigh, at.offset + lowest[k])
      })
      walls.push({ from, part: `stub-${which}-${id}`, direction, point: [point[0], point[1], point[2]], least })
    })
  }
  for (const box of boxes)
    for (const point of lowestCorners(box, direction, view))
      walls.push({ from, part: box.part, direction, point, least: least + box.tolerance })
  return walls
}

/** The corner of each mount that is lowest, from the face outward: what reaches behind the face depends on the core and is left to the ledger. */
function mountWalls(
  candidate: Candidate,
  direction: Vec3,
  least: number,
  view: View,
  from: number,
  except: readonly string[],
): Wall[] {
  const seen = turnedBack(view.turn, direction)
  return (candidate.mounts ?? []).flatMap((mount, number): Wall[] => {
    const part = `mount-${mount.id}`
    if (except.includes(part)) return []
    const tolerance = mountTolerance(candidate, mount)
    const points =
      mount.shape.kind === 'pin'
        ? [lowestOfPin(candidate, number, seen)]
        : lowestOf(mountCorners(candidate, number), seen)
    return points.map((point) => ({ from, part, direction, point, least: least + tolerance }))
  })
}

/** They differ by their offsets alone. */
function lowestOf(corners: readonly [Side, Side, Side][], seen: Vec3): [Side, Side, Side][] {
  const height = (corner: readonly Side[]) => corner.reduce((sum, { offset }, k) => sum + offset * seen[k], 0)
  const lowest = Math.min(...corners.map(height))
  return corners.filter((corner) => height(corner) === lowest)
}

/** The corners of a box that are lowest along a direction at some tilt of the view. */
function lowestCorners({ low, high }: Piece, direction: Vec3, view: View): [Side, Side, Side][] {
  const n = turnedBack(view.turn, direction)
  const reach = view.half + 1e-12
  const choices = [0, 1, 2].map((k) => {
    if (view.half === 0 && n[k] === 0) return [low[k]]
    const both = Math.abs(n[k]) <= reach && view.half > 0
    return both ? [low[k], high[k]] : [n[k] >= 0 ? low[k] : high[k]]
  })
  return choices[0].flatMap((x) => choices[1].flatMap((y) => choices[2].map((z): [Side, Side, Side] => [x, y, z])))
}

function lowestOfStub(n: Vec3, axis: Vec3, length: number, radius: number): Vec3 {
  const along = dot(n, axis) < 0 ? length : 0
  const across = cross(axis, cross(n, axis))
  const out = Math.hypot(...across) > 1e-12 ? unit(across) : squareTo(axis)[0]
  return [0, 1, 2].map((k) => axis[k] * along - out[k] * radius) as unknown as Vec3
}
