import type { Form, Solid } from '../../core/shape/form.ts'
import { polytopeOf } from '../../core/shape/polytope.ts'
import { solidFrom } from '../../core/shape/solid.ts'
import type { Vec3 } from '../../core/shape/vec.ts'

/** A solid of polytopes and cylinders carried elsewhere by a rigid motion, point by point. */
export const hullSolid = (solid: Solid, carry: (point: Vec3) => Vec3): Solid =>
  solidFrom(
    solid.forms.map((form): Form => {
      if (form.form !== 'convex') throw new Error(`not for ${form.form}`)
      const { body } = form
      if (body.kind === 'cylinder')
        return { form: 'convex', body: { ...body, from: carry(body.from), to: carry(body.to) } }
      const vertices = new Float64Array(body.vertices.length)
      for (let i = 0; i < vertices.length; i += 3)
        vertices.set(carry([body.vertices[i], body.vertices[i + 1], body.vertices[i + 2]]), i)
      return { form: 'convex', body: polytopeOf(vertices, body.faces) }
    }),
  )
