import type { ConvexForm, FormName, HalfSpaceForm, MeshForm, RoundForm } from '../shape/form.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'

export interface FormOf {
  convex: ConvexForm
  round: RoundForm
  mesh: MeshForm
  halfSpace: HalfSpaceForm
}

/** One function a pair of forms: a on the part's side, b on the keep-out's. Both in one frame near the origin, mm. */
export type PairClearance<A extends FormName, B extends FormName> = (
  a: FormOf[A],
  b: FormOf[B],
  options: ClearanceOptions,
) => Clearance

/**
 * The same pair in the other order: witnesses change places, the way to move the part turns round (moving one solid
 * out of the other or the other out of the one is the same shift, reversed).
 */
export function swapped<A extends FormName, B extends FormName>(pair: PairClearance<A, B>): PairClearance<B, A> {
  return (b, a, options) => turnedRound(pair(a, b, turnedOptions(options)))
}

function turnedOptions(options: ClearanceOptions): ClearanceOptions {
  const { near } = options
  return near ? { ...options, near: { onPart: near.onKeepOut, onKeepOut: near.onPart } } : options
}

export function turnedRound(answer: Clearance): Clearance {
  const { overlap } = answer
  const turned = { ...answer, onPart: answer.onKeepOut, onKeepOut: answer.onPart }
  if (!overlap?.direction) return turned
  const [x, y, z] = overlap.direction
  return { ...turned, overlap: { ...overlap, direction: [-x, -y, -z] } }
}
