import { mountBody, mountTolerance } from '../bay/mountParts.ts'
import { mountBox, mountFrame, type MountFrame, sideOf } from '../bay/mountFrame.ts'
import type { Mount, MountPlace } from '../bay/mountSchema.ts'
import type { Candidate } from '../bay/schema.ts'
import { along, dot, scale, sub } from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import { candidateAt, type PartBody, tankPlaceSides, withBounds } from './partBodies.ts'
import { type Piece, side, type Side } from './pieces.ts'
import type { View } from './view.ts'

/** A piece of a part by its name, made where it is wanted. */
export interface Try {
  readonly name: string
  readonly make: () => Piece
}

/** The mounts of a core between the faces as the ledger has them, bay frame, mm. */
export function mountBodies(candidate: Candidate, faces: Float64Array, view: View): PartBody[] {
  if (!candidate.mounts) return []
  const sized = candidateAt(candidate, faces, view)
  const pose = { turn: view.turn, at: sized.at }
  return (sized.mounts ?? []).flatMap((mount, number): PartBody[] => {
    const frame = mountFrame(sized, mount.on)
    const body = frame && mountBody(mount, frame, pose)
    if (!body?.ok) return []
    const tolerance = mountTolerance(sized, mount)
    return [withBounds({ part: `mount-${mount.id}`, kind: 'mount', mount: number, tolerance, body: body.value })]
  })
}

/** Where a mount sits, as a point that follows the faces; see `mountFrame`. */
export function mountSides(candidate: Candidate, on: MountPlace): [Side, Side, Side] {
  if (on.part !== 'core') return tankPlaceSides(candidate, sideOf(on.part), on)
  const ends = { front: [0, -1], rear: [0, 1], left: [1, -1], right: [1, 1], below: [2, -1], above: [2, 1] } as const
  const [axis, end] = ends[on.face]
  const across = [0, 1, 2].filter((k) => k !== axis)
  // u runs along Y where it can, else along X; on below and above v runs along X.
  const [uAxis, vAxis] = axis === 2 ? [1, 0] : across
  const at = (k: number) => (k === axis ? end : k === uAxis ? on.u : k === vAxis ? on.v : 0)
  return [between(at(0)), between(at(1)), between(at(2))]
}

/** At −1 the core's low side, at 1 its high side. */
const between = (at: number): Side => side((1 - at) / 2, (1 + at) / 2, 0)

/** The solid from the face's own plane outward, in the candidate's axes about the mount's place; what reaches behind depends on the core. */
interface Outline {
  readonly first: Vec3
  readonly second: Vec3
  readonly out: Vec3
  readonly half: readonly [number, number]
  readonly to: number
  readonly round: boolean
}

function outlineOf(candidate: Candidate, { shape, on }: Mount): Outline {
  const frame = frameOf(candidate, on)
  const { out } = frame
  if (shape.kind === 'pin') {
    const half = shape.diameter / 2
    return { first: frame.u, second: frame.v, out, half: [half, half], to: shape.length, round: true }
  }
  const { first, second, size, to } = mountBox(shape, frame)
  return { first, second, out, half: [size[0] / 2, size[1] / 2], to, round: false }
}

function frameOf(candidate: Candidate, on: MountPlace): MountFrame {
  const frame = mountFrame(candidate, on)
  if (!frame) throw new Error(`no ${on.part} for a mount`)
  return frame
}

const isAlongAxes = ({ first }: Outline): boolean => first.every((x) => x === 0 || Math.abs(x) === 1)

/** The base piece is the whole mount, whatever the core's size: a box along the axes on a face that never leans. */
export function isWholeMount(candidate: Candidate, mount: Mount): boolean {
  const outline = outlineOf(candidate, mount)
  const { normal, out } = frameOf(candidate, mount.on)
  return !outline.round && isAlongAxes(outline) && dot(normal, out) === 1
}

/** The piece that every obstacle is held against: the box where it lies along the axes, one in a pin, else its middle. */
export function mountBase(candidate: Candidate, number: number): Try {
  const { mount, outline } = at(candidate, number)
  if (outline.round) return inPin(candidate, number, mount, outline, Math.PI / 4)
  if (isAlongAxes(outline)) return boxTry(candidate, number, mount, outline, outline.half, 'box')
  return pointTry(candidate, number, mount, outline, [0, 0, outline.to / 2])
}

/** Pieces that may show a contact, the coarsest first and the exact one last. */
export function mountTries(candidate: Candidate, number: number, onPart: Vec3, faces: Float64Array): Try[] {
  const { mount, outline } = at(candidate, number)
  const place = mountSides(candidate, mount.on).map((s, k) => s.onLow * faces[k] + s.onHigh * faces[3 + k] + s.offset)
  const beside = sub(onPart, [place[0], place[1], place[2]])
  const { first, second, out, half, to } = outline
  const local = [dot(beside, first), dot(beside, second), dot(beside, out)]
  if (outline.round) {
    const exact = Math.atan2(Math.abs(local[1]), Math.abs(local[0]))
    const angles = [2, 8, 32].map((steps) => (Math.round((exact * 2 * steps) / Math.PI) * Math.PI) / (2 * steps))
    return [...angles, exact].map((angle) => inPin(candidate, number, mount, outline, angle))
  }
  if (isAlongAxes(outline)) return [mountBase(candidate, number)]
  const sizes = [half[0], half[1], to]
  const held = local.map((x, k) => Math.min(sizes[k], Math.max(k === 2 ? 0 : -sizes[k], x)))
  const rounded = [4, 16, 64].map((steps) =>
    held.map((x, k) => (Math.round((x / sizes[k]) * steps) / steps) * sizes[k]),
  )
  return [...rounded, held].map((point) => pointTry(candidate, number, mount, outline, [point[0], point[1], point[2]]))
}

/** All corners of its outline as points that follow the faces, for planes. */
export function mountCorners(candidate: Candidate, number: number): [Side, Side, Side][] {
  const { mount, outline } = at(candidate, number)
  const { half, to } = outline
  return [-1, 1].flatMap((a) =>
    [-1, 1].flatMap((b) =>
      [0, to].map((w) => moved(mountSides(candidate, mount.on), offsetOf(outline, a * half[0], b * half[1], w))),
    ),
  )
}

/** The point of a pin's outline that lies lowest along a direction (unit, candidate's axes). */
export function lowestOfPin(candidate: Candidate, number: number, direction: Vec3): [Side, Side, Side] {
  const { mount, outline } = at(candidate, number)
  const { first, second, out, half, to } = outline
  const [a, b] = [dot(direction, first), dot(direction, second)]
  const across = Math.hypot(a, b)
  const [x, y] = across > 1e-12 ? [(-a / across) * half[0], (-b / across) * half[0]] : [0, 0]
  return moved(mountSides(candidate, mount.on), offsetOf(outline, x, y, dot(direction, out) < 0 ? to : 0))
}

function at(candidate: Candidate, number: number): { mount: Mount; outline: Outline } {
  const mount = candidate.mounts?.[number]
  if (!mount) throw new Error(`no mount ${number}`)
  return { mount, outline: outlineOf(candidate, mount) }
}

const offsetOf = ({ first, second, out }: Outline, a: number, b: number, w: number): Vec3 =>
  along(along(scale(first, a), second, b), out, w)

const moved = (sides: readonly Side[], by: Vec3): [Side, Side, Side] => {
  const [x, y, z] = sides.map((s, k) => side(s.onLow, s.onHigh, s.offset + by[k]))
  return [x, y, z]
}

function pieceOf(candidate: Candidate, mount: Mount, from: Vec3, to: Vec3): Piece {
  const sides = mountSides(candidate, mount.on)
  const tolerance = mountTolerance(candidate, mount)
  return { part: `mount-${mount.id}`, tolerance, low: moved(sides, from), high: moved(sides, to) }
}

function boxTry(
  candidate: Candidate,
  number: number,
  mount: Mount,
  { first, second, out, to }: Outline,
  half: readonly [number, number],
  name: string,
): Try {
  const reach = [0, 1, 2].map((k) => Math.abs(first[k]) * half[0] + Math.abs(second[k]) * half[1])
  const low: Vec3 = [0, 1, 2].map((k) => Math.min(0, out[k] * to) - reach[k]) as unknown as Vec3
  const high: Vec3 = [0, 1, 2].map((k) => Math.max(0, out[k] * to) + reach[k]) as unknown as Vec3
  return { name: `mount ${number} ${name}`, make: () => pieceOf(candidate, mount, low, high) }
}

/** A box in a pin as long as it, whose long edges lie on its round side at an angle and at its mirror images. */
function inPin(candidate: Candidate, number: number, mount: Mount, outline: Outline, angle: number): Try {
  const inner = outline.half[0] * (1 - 1e-15)
  const half = [inner * Math.cos(angle), inner * Math.sin(angle)] as const
  return boxTry(candidate, number, mount, outline, half, String(angle))
}

function pointTry(candidate: Candidate, number: number, mount: Mount, outline: Outline, [a, b, w]: Vec3): Try {
  const point = offsetOf(outline, a, b, w)
  return { name: `mount ${number} ${a} ${b} ${w}`, make: () => pieceOf(candidate, mount, point, point) }
}
