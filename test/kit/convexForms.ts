import type { ConvexForm, HalfSpaceForm } from '../../core/shape/form.ts'
import { along, dot, placed, scale, sub, turned, unit } from '../../core/shape/vec.ts'
import { anyBody, anyCylinder, anyPolytope, type Body, grownBody, movedBody, outsideBy, scaledBody } from './bodies.ts'
import type { FormKit } from './everyPair.ts'
import type { Random } from './random.ts'

const kitOf = (name: string, make: (random: Random, half: number) => Body): FormKit<ConvexForm> => ({
  name,
  make: (random, half) => ({ form: 'convex', body: make(random, half) }),
  placed: (form, pose) => ({ form: 'convex', body: movedBody(form.body, pose) }),
  scaled: (form, by) => ({ form: 'convex', body: scaledBody(form.body, by) }),
  grown: (form, by) => ({ form: 'convex', body: grownBody(form.body, by) }),
  outsideBy: (form, point) => outsideBy(form.body, point),
})

/** Boxes, tapered tanks and small hulls. */
export const polytopeKit = kitOf('polytope', anyPolytope)
export const cylinderKit = kitOf('cylinder', anyCylinder)
/** Seven polytopes to three cylinders. */
export const convexKit = kitOf('convex', anyBody)

export const halfSpaceKit: FormKit<HalfSpaceForm> = {
  name: 'half-space',
  make: (random, half) => ({ form: 'halfSpace', point: random.point(half / 2), normal: unit(random.unit()) }),
  placed: (form, pose) => ({
    form: 'halfSpace',
    point: placed(pose, form.point),
    normal: turned(pose.turn, form.normal),
  }),
  scaled: (form, by) => ({ ...form, point: scale(form.point, by) }),
  grown: (form, by) => ({ ...form, point: along(form.point, form.normal, by) }),
  outsideBy: (form, point) => dot(form.normal, sub(point, form.point)),
}
