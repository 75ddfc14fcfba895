import { clearance } from '../clearance/clearance.ts'
import type { Piece, RoundForm, Solid } from '../shape/form.ts'
import { add, along, distance, dot, scale, sub, type Vec3 } from '../shape/vec.ts'
import type { TooNear } from './meshPoint.ts'

/**
 * Whether a round sweep is nearer to a part than asked by more than `ignore`, and where: a ball about its centreline.
 * @param part, target bay frame, mm; `target` is of the one form
 */
export function roundPoint(
  part: Solid,
  target: Solid,
  form: RoundForm,
  asked: number,
  ignore: number,
): TooNear | undefined {
  const answer = clearance(part, target, { upTo: Math.max(0, asked - ignore), depth: false })
  if (answer.atLeast >= asked - ignore && !answer.overlap) return undefined
  const by = asked - answer.atLeast
  if (by <= ignore) return undefined
  const { onPart, onKeepOut } = answer
  const ball = ballAbout(form, onKeepOut)
  return { at: ball?.at ?? onKeepOut, room: ball?.room ?? 0, by, ...(!answer.overlap && { onPart }) }
}

/**
 * The ball about the centreline's point nearest to p, where it does not stand out of the flat ends. Within it the nearest
 * point of the centreline is no end, so that every point of it lies in a disc.
 */
function ballAbout({ centreline, radius }: RoundForm, p: Vec3): { at: Vec3; room: number } | undefined {
  let at = p
  let least = Infinity
  for (const piece of centreline) {
    const q = nearestOn(piece, p)
    const d = distance(p, q)
    if (d >= least) continue
    least = d
    at = q
  }
  const ends = [endOf(centreline[0], 0), endOf(centreline[centreline.length - 1], 1)]
  const room = Math.min(radius, ...ends.map((end) => distance(at, end) / 2)) * (1 - 1e-12)
  // A ball smaller than the tube's keeps its nearest point within: worth it only where it reaches the surface.
  return room >= radius * (1 - 1e-9) ? { at, room: room - 1e-11 } : undefined
}

function nearestOn(piece: Piece, p: Vec3): Vec3 {
  if (piece.kind === 'straight') {
    const d = sub(piece.to, piece.from)
    const s = dot(sub(p, piece.from), d) / dot(d, d)
    return along(piece.from, d, Math.min(1, Math.max(0, s)))
  }
  const g = sub(p, piece.centre)
  const a = Math.atan2(dot(g, piece.y), dot(g, piece.x))
  const turned = a < 0 ? a + 2 * Math.PI : a
  // Past the end: the nearer of the two.
  const beyond = (turned - piece.angle) / 2
  const angle = turned <= piece.angle ? turned : beyond < Math.PI - piece.angle / 2 - beyond ? piece.angle : 0
  return arcPoint(piece, angle)
}

const arcPoint = (piece: Extract<Piece, { kind: 'arc' }>, angle: number): Vec3 =>
  add(piece.centre, add(scale(piece.x, piece.radius * Math.cos(angle)), scale(piece.y, piece.radius * Math.sin(angle))))

function endOf(piece: Piece, share: 0 | 1): Vec3 {
  if (piece.kind === 'straight') return share === 0 ? piece.from : piece.to
  return arcPoint(piece, share * piece.angle)
}
