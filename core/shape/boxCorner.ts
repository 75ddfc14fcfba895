import { add, scale, sub, turned, turnMatrix, type Vec3 } from './vec.ts'

interface BoxPlace {
  /** Its centre, mm. */
  readonly at: Vec3
  readonly size: Vec3
  readonly turn?: Vec3
}

/** The corner of a box that is foremost, leftmost and lowest before it is turned, mm. */
export const boxCorner = ({ at, size, turn }: BoxPlace): Vec3 => sub(at, halfDiagonal(size, turn))

/** The centre of a box from that corner. */
export const centreFromCorner = (corner: Vec3, size: Vec3, turn?: Vec3): Vec3 => add(corner, halfDiagonal(size, turn))

const halfDiagonal = (size: Vec3, turn: Vec3 = [0, 0, 0]): Vec3 => turned(turnMatrix(turn), scale(size, 0.5))
