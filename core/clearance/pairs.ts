import type { ConvexForm, Form, FormName, HalfSpaceForm, MeshForm, RoundForm } from '../shape/form.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'

interface FormOf {
  convex: ConvexForm
  round: RoundForm
  halfSpace: HalfSpaceForm
  mesh: MeshForm
}
/** One function a pair of forms; a = part side, b = keep-out side. Both in one frame, mm. Missing pairs do not compile. */
export type PairClearance<A extends FormName, B extends FormName> = (a: FormOf[A], b: FormOf[B], options: ClearanceOptions) => Clearance
export type PairTable = {
  'convex·convex': PairClearance<'convex', 'convex'>
  'convex·round': PairClearance<'convex', 'round'>
  'convex·halfSpace': PairClearance<'convex', 'halfSpace'>
  'convex·mesh': PairClearance<'convex', 'mesh'>
  'round·round': PairClearance<'round', 'round'>
  'round·halfSpace': PairClearance<'round', 'halfSpace'>
  'round·mesh': PairClearance<'round', 'mesh'>
  'halfSpace·halfSpace': PairClearance<'halfSpace', 'halfSpace'>
  'mesh·halfSpace': PairClearance<'mesh', 'halfSpace'>
  'mesh·mesh': PairClearance<'mesh', 'mesh'>
}
export type { Form }
