import type { Candidate } from '../bay/schema.ts'
import { sides, type Side as TankSide } from '../bay/tankPort.ts'
import { dot, scale, sub, type Vec3 } from '../shape/vec.ts'
import { isWholeMount, mountBase, mountTries, type Try } from './mountPieces.ts'
import { corePiece, type PartBody, portSides, stubAxis, stubPiece, tankPiece } from './partBodies.ts'
import { mostPieces, type Piece, Pieces, type Side } from './pieces.ts'

/** Where a keep-out's ball is too near a part, in the view's axes, mm. */
export interface Contact {
  readonly ball: Vec3
  /** Distance that the ball's middle must keep from the part. */
  readonly apart: number
  /** Nearest point of the part, or the ball's middle where that lies in it. */
  readonly onPart: Vec3
}

/** The pieces of a candidate: those that every obstacle is held against, and finer ones where a contact asks for them. */
export class PartPieces {
  readonly pieces = new Pieces()
  /** Held against every obstacle. */
  readonly base: readonly number[]
  private readonly candidate: Candidate
  private readonly ofPart = new Map<string, readonly number[]>()

  constructor(candidate: Candidate) {
    this.candidate = candidate
    const base = [this.pieces.add('core', () => corePiece(candidate))]
    this.ofPart.set('core', [...base])
    for (const which of sides) {
      const tank = candidate.tanks?.[which]
      if (!tank) continue
      const shares = this.isTapered(which) ? [1, 0.5] : [1]
      const own = shares.map((share) => this.section(which, share))
      this.ofPart.set(`tank-${which}`, own)
      base.push(...own)
      ;(tank.ports ?? []).forEach((port, number) => {
        const stub = this.stubBase(which, number)
        this.ofPart.set(`stub-${which}-${port.id}`, stub)
        base.push(...stub)
      })
    }
    ;(candidate.mounts ?? []).forEach(({ id }, number) => {
      const { name, make } = mountBase(candidate, number)
      const own = this.pieces.add(name, make)
      this.ofPart.set(`mount-${id}`, [own])
      base.push(own)
    })
    this.base = base
  }

  baseOf(part: string): readonly number[] {
    return this.ofPart.get(part) ?? []
  }

  /** The one piece is the whole part. */
  isWhole(part: PartBody): boolean {
    const mount = part.mount === undefined ? undefined : this.candidate.mounts?.[part.mount]
    if (mount) return isWholeMount(this.candidate, mount)
    return part.kind === 'core' || (part.kind === 'tank' && part.side !== undefined && !this.isTapered(part.side))
  }

  /**
   * The piece of a part that a contact shows to be too near: the coarsest that shows half of it, since coarse ones are met
   * again and again. Undefined where there is no room for another piece.
   */
  at(part: PartBody, contact: Contact, faces: Float64Array): number | undefined {
    if (this.isWhole(part)) return this.baseOf(part.part)[0]
    const tries = this.triesAt(part, contact, faces)
    if (tries.length === 0) return undefined
    const exact = tries[tries.length - 1]
    const enough = 0.5 * shortBy(exact.make(), contact, faces)
    const chosen = tries.find(({ make }) => shortBy(make(), contact, faces) > Math.max(enough, 0)) ?? exact
    if (this.pieces.count >= mostPieces - 1) return undefined
    return this.pieces.add(chosen.name, chosen.make)
  }

  private triesAt(part: PartBody, contact: Contact, faces: Float64Array): Try[] {
    if (part.mount !== undefined) return mountTries(this.candidate, part.mount, contact.onPart, faces)
    if (part.side === undefined) return []
    return part.kind === 'tank' ? this.sectionsAt(part.side, contact, faces) : this.boxesAt(part, contact, faces)
  }

  private isTapered(which: TankSide): boolean {
    const taper = this.candidate.tanks?.[which]?.taper
    return taper !== undefined && (taper.depth < 1 || taper.height < 1)
  }

  private section(which: TankSide, share: number): number {
    return this.pieces.add(`${which} ${share}`, () => tankPiece(this.candidate, which, share))
  }

  private sectionsAt(which: TankSide, { onPart }: Contact, faces: Float64Array): Try[] {
    const length = this.candidate.tanks?.[which]?.length ?? 1
    const out = which === 'left' ? faces[1] - onPart[1] : onPart[1] - faces[4]
    const exact = Math.min(1, Math.max(0, out / length))
    const shares = [4, 16, 64, 256, 1024].map((steps) => Math.round(exact * steps) / steps)
    return [...shares, exact].map((share) => ({
      name: `${which} ${share}`,
      make: () => tankPiece(this.candidate, which, share),
    }))
  }

  private stubBase(which: TankSide, port: number): number[] {
    const { radius, length, along } = this.stub(which, port)
    if (along < 0) {
      const axis = stubAxis(this.candidate, which, port)
      const middle = scale(axis, length / 2)
      return [
        this.pieces.add(`${which} ${port} middle`, () => stubPiece(this.candidate, which, port, middle, middle, -1)),
      ]
    }
    return [this.stubBox(which, port, Math.PI / 4, radius, length, along)].map(({ name, make }) =>
      this.pieces.add(name, make),
    )
  }

  /** The axis that the stub runs along, or −1 where it leans. */
  private stub(which: TankSide, port: number): { radius: number; length: number; along: number } {
    const own = this.candidate.tanks?.[which]?.ports?.[port]
    const axis = stubAxis(this.candidate, which, port)
    return {
      radius: (own?.outsideDiameter ?? 0) / 2,
      length: own?.length ?? 0,
      along: axis.findIndex((x) => Math.abs(x) > 1 - 1e-15),
    }
  }

  /** How far behind its point a leaning stub of the far end begins at least, whatever the core; 0 for other faces. */
  private endsLeaning(which: TankSide, port: number, axis: Vec3, radius: number): number {
    if (this.candidate.tanks?.[which]?.ports?.[port].face !== 'end') return 0
    const cosine = Math.abs(axis[1])
    return cosine > 0.1 ? (radius * Math.sqrt(1 - cosine * cosine) * (1 - 1e-12)) / cosine : 0
  }

  /** A box in the stub as long as it, whose long edges lie on its round side at an angle (and at its mirror images). */
  private stubBox(which: TankSide, port: number, angle: number, radius: number, length: number, along: number): Try {
    const axis = stubAxis(this.candidate, which, port)
    const inner = radius * (1 - 1e-15)
    const [u, v] = [(along + 1) % 3, (along + 2) % 3]
    const from = [0, 0, 0]
    const to = [0, 0, 0]
    to[u] = inner * Math.cos(angle)
    to[v] = inner * Math.sin(angle)
    from[u] = -to[u]
    from[v] = -to[v]
    from[along] = Math.min(0, axis[along] * length)
    to[along] = Math.max(0, axis[along] * length)
    return {
      name: `${which} ${port} ${angle}`,
      make: () => stubPiece(this.candidate, which, port, asVec(from), asVec(to), along),
    }
  }

  private boxesAt(part: PartBody, { onPart }: Contact, faces: Float64Array): Try[] {
    const which = part.side ?? 'left'
    const port = part.port ?? 0
    const { radius, length, along } = this.stub(which, port)
    const start = portSides(this.candidate, which, port).map((s, k) => standsAt(s, faces, k))
    const beside = sub(onPart, asVec(start))
    if (along < 0) {
      // A leaning stub by single points, each a little inside so that it is in the stub for sure. How far it reaches behind
      // its point on the face depends on the core but for the far end, whose normal never turns: points farther back are
      // shown by the nearest that every core has.
      const axis = stubAxis(this.candidate, which, port)
      const middle = scale(axis, length / 2)
      const back = this.endsLeaning(which, port, axis, radius)
      const near = sub(beside, scale(axis, Math.min(0, dot(beside, axis) + back)))
      const point = asVec([0, 1, 2].map((k) => middle[k] + (near[k] - middle[k]) * (1 - 1e-12)))
      return [
        {
          name: `${which} ${port} ${point.join()}`,
          make: () => stubPiece(this.candidate, which, port, point, point, -1),
        },
      ]
    }
    const exact = Math.atan2(Math.abs(beside[(along + 2) % 3]), Math.abs(beside[(along + 1) % 3]))
    const angles = [2, 8, 32].map((steps) => (Math.round((exact * 2 * steps) / Math.PI) * Math.PI) / (2 * steps))
    return [...angles, exact].map((angle) => this.stubBox(which, port, angle, radius, length, along))
  }
}

const asVec = (x: readonly number[]): Vec3 => [x[0], x[1], x[2]]

const standsAt = ({ onLow, onHigh, offset }: Side, faces: Float64Array, k: number): number =>
  onLow * faces[k] + onHigh * faces[3 + k] + offset

/** How much nearer to the ball's middle than asked a piece is, mm. */
function shortBy({ low, high }: Piece, { ball, apart }: Contact, faces: Float64Array): number {
  let squared = 0
  for (let k = 0; k < 3; k++) {
    const gap = Math.max(ball[k] - standsAt(high[k], faces, k), standsAt(low[k], faces, k) - ball[k], 0)
    squared += gap * gap
  }
  return apart - Math.sqrt(squared)
}
