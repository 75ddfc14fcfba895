import type { Bay } from '../../core/bay/schema.ts'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { checkMesh, type MeshReport } from '../../core/shape/meshCheck.ts'
import { readMesh } from './importers.ts'
import { defaultLimits, type ReadLimits } from './rawMesh.ts'

/** A mesh ready for use, and what was found on the way; lengths in the file's own numbers. */
export interface LoadedMesh {
  readonly mesh: Mesh
  readonly report: MeshReport
  /** 'STL', 'PLY' … */
  readonly format: string
  /** Triangles as the file has them, before merging and dropping. */
  readonly trianglesInFile: number
  /** Faces of more than three corners that are not flat: their surface between the corners is a choice. */
  readonly bentFaces: number
}

export interface BayMeshes {
  /** By the `file` that the bay names. */
  readonly meshes: ReadonlyMap<string, Mesh>
  readonly loaded: ReadonlyMap<string, LoadedMesh>
}

/**
 * Reads and checks one mesh file: bytes in, values out, the same in Node and in a browser worker.
 * @param name as the user knows it; every fault carries it
 */
export async function loadMesh(
  name: string,
  bytes: Uint8Array,
  limits: ReadLimits = defaultLimits,
): Promise<Outcome<LoadedMesh>> {
  const raw = await readMesh(name, bytes, limits)
  if (!raw.ok) return raw
  const { positions, triangles, format, bentFaces } = raw.value
  const checked = checkMesh(positions, triangles)
  if (!checked.ok) return { ok: false, faults: checked.faults.map((fault) => ({ ...fault, file: name })) }
  return good({ ...checked.value, format, bentFaces, trianglesInFile: triangles.length / 3 })
}

/**
 * Reads every mesh that a bay names, each file once, also those of keep-outs that are left out for a look.
 * @param bytesOf fetches a file of the bay's folder; the only thing that differs between homes
 * @returns all of them or the faults of all that failed, naming mesh file, keep-out and field. The limits hold for the
 *   meshes together.
 */
export async function loadBayMeshes(
  bay: Bay,
  bytesOf: (file: string) => Promise<Outcome<Uint8Array>>,
  limits: ReadLimits = defaultLimits,
): Promise<Outcome<BayMeshes>> {
  const loaded = new Map<string, LoadedMesh>()
  const faults: Fault[] = []
  let left = limits
  for (const { file, item, field } of meshFilesOf(bay)) {
    const bytes = await bytesOf(file)
    const one = bytes.ok ? await loadMesh(file, bytes.value, left) : bytes
    if (one.ok) {
      loaded.set(file, one.value)
      left = {
        bytes: left.bytes - (bytes.ok ? bytes.value.length : 0),
        triangles: left.triangles - one.value.trianglesInFile,
      }
    } else {
      faults.push(...one.faults.map((fault) => atKeepOut(fault, file, item, field)))
    }
  }
  if (faults.length > 0) return bad(...faults)
  return good({ loaded, meshes: new Map([...loaded].map(([file, { mesh }]) => [file, mesh])) })
}

/** The first keep-out of each mesh file. */
function meshFilesOf(bay: Bay): { file: string; item: string; field: string }[] {
  const found = new Map<string, { file: string; item: string; field: string }>()
  bay.keepOuts.forEach(({ id, shape }, index) => {
    if (shape.kind === 'mesh' && !found.has(shape.file))
      found.set(shape.file, { file: shape.file, item: id, field: `keepOuts[${index}].shape.file` })
  })
  return [...found.values()]
}

/** The keep-out takes the item's place; what the reader named (a vertex, a line) goes to the field. */
function atKeepOut(fault: Fault, file: string, item: string, field: string): Fault {
  const inside = [fault.item, fault.field].filter((part) => part !== undefined).join(', ')
  return { ...fault, file: fault.file ?? file, item, field: inside === '' ? field : inside }
}
