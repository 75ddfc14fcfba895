import { z } from 'zod'

/*
 * The part of glTF 2.0's JSON that says where the triangles are; all else (looks, cameras, animation) is left unread.
 * Source: Khronos, glTF 2.0 specification, sections 3.5 to 3.7 (from memory).
 */
const index = z.number().int().nonnegative()
const numbers = (n: number) => z.array(z.number()).length(n)

const accessor = z.object({
  bufferView: index.optional(),
  byteOffset: index.optional(),
  componentType: z.number(),
  normalized: z.boolean().optional(),
  count: index,
  type: z.string(),
  sparse: z.unknown().optional(),
})

const bufferView = z.object({
  buffer: index,
  byteOffset: index.optional(),
  byteLength: index,
  byteStride: z.number().int().min(4).max(252).optional(),
})

const primitive = z.object({
  attributes: z.record(z.string(), index),
  indices: index.optional(),
  mode: z.number().int().optional(),
  targets: z.array(z.unknown()).optional(),
})

const node = z.object({
  name: z.string().optional(),
  children: z.array(index).optional(),
  mesh: index.optional(),
  skin: index.optional(),
  matrix: numbers(16).optional(),
  translation: numbers(3).optional(),
  rotation: numbers(4).optional(),
  scale: numbers(3).optional(),
  extensions: z.record(z.string(), z.unknown()).optional(),
})

export const glbJsonSchema = z.object({
  asset: z.object({ version: z.string() }),
  extensionsRequired: z.array(z.string()).optional(),
  buffers: z.array(z.object({ byteLength: index, uri: z.string().optional() })).optional(),
  bufferViews: z.array(bufferView).optional(),
  accessors: z.array(accessor).optional(),
  meshes: z.array(z.object({ name: z.string().optional(), primitives: z.array(primitive) })).optional(),
  nodes: z.array(node).optional(),
  scenes: z.array(z.object({ nodes: z.array(index).optional() })).optional(),
  scene: index.optional(),
})

export type GlbJson = z.infer<typeof glbJsonSchema>
export type GlbNode = z.infer<typeof node>
export type GlbPrimitive = z.infer<typeof primitive>
