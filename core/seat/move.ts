import {
  add,
  along,
  type Mat3,
  type Pose,
  placedBack,
  product,
  scale,
  sub,
  turnAngles,
  turned,
  turnMatrix,
  unit,
} from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { Move, SeatPath, Standing } from './answer.ts'

export const poseOf = ({ at, turn }: Standing): Pose => ({ at, turn: turnMatrix(turn) })

/**
 * A pose as the bay file says it.
 * @returns `turn` in degrees about fixed X, then Y, then Z, each −180 … 180; where Y is ±90° X is taken as 0.
 * Error: a few units in the last place; `poseOf` gives the pose back to that.
 */
export const standingOf = ({ at, turn }: Pose): Standing => ({ at, turn: turnAngles(turn) })

/** Turn about a unit axis through the origin, right-handed, radians. */
export function turnAbout([x, y, z]: Vec3, angle: number): Mat3 {
  const [s, c] = [Math.sin(angle), Math.cos(angle)]
  const k = 1 - c
  return [
    c + k * x * x,
    k * x * y - s * z,
    k * x * z + s * y,
    k * x * y + s * z,
    c + k * y * y,
    k * y * z - s * x,
    k * x * z - s * y,
    k * y * z + s * x,
    c + k * z * z,
  ]
}

/** Radians; 0 for a move that only shifts. */
export const angleOf = ({ angle }: Move): number => (angle * Math.PI) / 180

/**
 * Where the part stands when a share of a move is done.
 * @param start pose at the move's beginning, bay frame
 * @param share 0 … 1
 */
export function poseAt(start: Pose, move: Move, share: number): Pose {
  const pivot = along(move.pivot, move.shift, share)
  if (move.angle === 0) return { turn: start.turn, at: along(start.at, move.shift, share) }
  const turn = product(turnAbout(unit(move.axis), angleOf(move) * share), start.turn)
  return { turn, at: sub(pivot, turned(turn, placedBack(start, move.pivot))) }
}

/** The poses between the moves: one more than there are moves, the start first. */
export function posesOf(path: SeatPath): Pose[] {
  return posesFrom(poseOf(path.start), path.moves)
}

export function posesFrom(start: Pose, moves: readonly Move[]): Pose[] {
  const poses = [start]
  for (const move of moves) poses.push(poseAt(poses[poses.length - 1], move, 1))
  return poses
}

export function endOf(path: SeatPath): Pose {
  const poses = posesOf(path)
  return poses[poses.length - 1]
}

/**
 * Where the part stands at a moment of its path.
 * @param moves how many moves are done, 0 … as many as there are; broken numbers are shares
 */
export function poseAfter(path: SeatPath, moves: number): Pose {
  const poses = posesOf(path)
  const done = Math.min(Math.max(0, Math.floor(moves)), path.moves.length)
  const move = path.moves[done]
  return move ? poseAt(poses[done], move, Math.max(0, moves - done)) : poses[done]
}

/** How whatever is fixed to the part is carried along when the part goes from one pose to another. */
export function carriedFrom(from: Pose, to: Pose): Pose {
  const turn = product(to.turn, transposed(from.turn))
  return { turn, at: sub(to.at, turned(turn, from.at)) }
}

const transposed = ([a, b, c, d, e, f, g, h, i]: Mat3): Mat3 => [a, d, g, b, e, h, c, f, i]

/** The same motion the other way: it begins where this one ends. */
export const reversedMove = ({ shift, pivot, axis, angle }: Move): Move => ({
  shift: scale(shift, -1).map((x) => x + 0) as unknown as Vec3,
  pivot: add(pivot, shift),
  axis: angle === 0 ? axis : (scale(axis, -1).map((x) => x + 0) as unknown as Vec3),
  angle,
})

const reversedMoves = (moves: readonly Move[]): Move[] => moves.map(reversedMove).reverse()

/** The same continuous motion run backwards, from where the path ends. */
export const reversed = (path: SeatPath): SeatPath => ({
  start: standingOf(endOf(path)),
  moves: reversedMoves(path.moves),
})

/** Where a part has to begin so that these moves end at the seat. */
export function startOf(seat: Pose, moves: readonly Move[]): Standing {
  const back = posesFrom(seat, reversedMoves(moves))
  return standingOf(back[back.length - 1])
}

/** A way out of the seat, as the searches find it, turned into the way in. */
export function offeredUp(seat: Pose, out: readonly Move[]): SeatPath {
  const moves = reversedMoves(out)
  const poses = posesFrom(seat, out)
  return { start: standingOf(poses[poses.length - 1]), moves }
}
