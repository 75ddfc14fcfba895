import { placed, placedBack, sub, type Vec3 } from '../shape/vec.ts'
import type { Move, SeatPath, Standing } from './answer.ts'
import { poseAt, poseOf, posesOf, reversedMove, standingOf } from './move.ts'

/** A move as a person thinks of it: its pivot is a point of the part and not of the bay. */
export interface GrippedMove extends Omit<Move, 'pivot'> {
  /** The part's own frame, mm. */
  readonly grip: Vec3
}

/** The moves of a path with the points of the part that they turn about. */
export function gripped(path: SeatPath): GrippedMove[] {
  const poses = posesOf(path)
  return path.moves.map(({ pivot, ...move }, n) => ({ ...move, grip: placedBack(poses[n], pivot) }))
}

/**
 * The path on which these moves, one after the other, end at a seat; told from its end backwards.
 * @returns without moves the seat itself as start. Rounded to a millionth of a micrometre, free of the dust of turning.
 */
export function endingAt(seat: Standing, moves: readonly GrippedMove[]): SeatPath {
  let pose = poseOf(seat)
  const told = [...moves].reverse().map(({ grip, ...move }): Move => {
    const last = { ...move, pivot: dusted(sub(placed(pose, grip), move.shift)) }
    pose = poseAt(pose, reversedMove(last), 1)
    return last
  })
  const { at, turn } = standingOf(pose)
  return { start: { at: dusted(at), turn: dusted(turn) }, moves: told.reverse() }
}

/**
 * A path with its moves changed, that ends at the seat again: a person who changes a move means the way to the same seat, with
 * every edge that is turned about still that edge.
 */
export const editedPath = (
  seat: Standing,
  path: SeatPath,
  change: (moves: readonly GrippedMove[]) => readonly GrippedMove[],
): SeatPath => endingAt(seat, change(gripped(path)))

const dusted = (v: Vec3): Vec3 => v.map((x) => Math.round(x * 1e9) / 1e9 + 0) as unknown as Vec3
