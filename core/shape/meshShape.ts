import { z } from 'zod'
import { bad, good, type Outcome } from '../fault.ts'
import { ownMeshBounds } from './bounds.ts'
import type { ShapeContext, ShapeDefinition } from './definition.ts'
import { pointSchema } from './fields.ts'
import type { Form } from './form.ts'
import type { Mesh } from './mesh.ts'
import { turnMatrix } from './vec.ts'

/** Millimetres in one unit of a mesh file. */
export const meshUnits = { mm: 1, cm: 10, m: 1000, inch: 25.4, foot: 304.8 } as const
export type MeshUnit = keyof typeof meshUnits

/** Mesh file beside the bay: its numbers times `unit`, then `turn` (degrees about fixed X, Y, Z), then `at` (mm). */
const schema = z.strictObject({
  kind: z.literal('mesh'),
  file: z.string().min(1),
  unit: z.enum(['mm', 'cm', 'm', 'inch', 'foot']),
  at: pointSchema.optional(),
  turn: pointSchema.optional(),
})
type MeshShape = z.infer<typeof schema>

/** Farthest a mesh may reach from its own origin, mm: 10 km. Beyond it the unit is surely wrong. */
const farthest = 1e7

const scaledMeshes = new WeakMap<Mesh, Map<MeshUnit, Mesh>>()

/**
 * A mesh in mm. The same mesh and unit always give the same object, so that trees and bounds kept by mesh are found again.
 * @param mesh in its file's own unit
 */
export function scaledMesh(mesh: Mesh, unit: MeshUnit): Mesh {
  if (unit === 'mm') return mesh
  const byUnit = scaledMeshes.get(mesh) ?? new Map<MeshUnit, Mesh>()
  scaledMeshes.set(mesh, byUnit)
  const factor = meshUnits[unit]
  const scaled = byUnit.get(unit) ?? { ...mesh, positions: mesh.positions.map((x) => x * factor) }
  byUnit.set(unit, scaled)
  return scaled
}

function solid({ file, unit, at, turn }: MeshShape, { meshes }: ShapeContext): Outcome<readonly Form[]> {
  const raw = meshes.get(file)
  if (!raw) return bad({ code: 'mesh-missing', field: 'shape.file', expected: 'a mesh that was read', got: file })
  const mesh = scaledMesh(raw, unit)
  const { min, max } = ownMeshBounds(mesh)
  const reach = Math.max(...[...min, ...max].map(Math.abs))
  if (!(reach <= farthest))
    return bad({
      code: 'mesh-too-large',
      field: 'shape.unit',
      expected: `coordinates within ${farthest} mm`,
      got: reach,
    })
  return good([{ form: 'mesh', mesh, pose: { turn: turnMatrix(turn ?? [0, 0, 0]), at: at ?? [0, 0, 0] } }])
}

export const mesh = { kind: 'mesh', schema, solid } satisfies ShapeDefinition<MeshShape>
