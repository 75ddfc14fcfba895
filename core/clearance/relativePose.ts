import type { MeshForm } from '../shape/form.ts'
import { add, type Mat3, type Pose, product, sub, turned, turnedBack } from '../shape/vec.ts'
import type { MeshTree } from './meshTree.ts'

/** Frame of b's tree as seen from a's: x ↦ turn·x + at, mm; mirrors where just one of the two poses does. */
export function relativePose(a: MeshForm, treeA: MeshTree, b: MeshForm, treeB: MeshTree): Pose {
  const t = a.pose.turn
  const back: Mat3 = [t[0], t[3], t[6], t[1], t[4], t[7], t[2], t[5], t[8]]
  const centreB = add(b.pose.at, turned(b.pose.turn, treeB.centre))
  return {
    turn: product(back, b.pose.turn),
    at: sub(turnedBack(t, sub(centreB, a.pose.at)), treeA.centre),
  }
}
