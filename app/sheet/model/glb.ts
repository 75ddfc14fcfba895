import { Document, type Material, WebIO } from '@gltf-transform/core'
import type { DrawnThing } from '../../../core/sheet/drawing/drawing.ts'
import type { ClosedMesh } from '../../../core/shape/closedMesh.ts'
import { type ModelPart, modelParts } from './stl.ts'

const metal: [number, number, number, number] = [0.72, 0.74, 0.76, 1]
const rubber: [number, number, number, number] = [0.12, 0.12, 0.13, 1]

/**
 * The candidate as GLB: metres, Y up and the car's front towards +Z, as glTF 2.0 (3.3) has it, so X of the bay is −Z, Y is
 * −X, Z is Y. One node a part, named as in the ledger; every part is closed, and facets are shaded flat.
 */
export async function candidateGlb(things: readonly DrawnThing[], name: string): Promise<Uint8Array> {
  const document = new Document()
  const buffer = document.createBuffer()
  const looks = { metal: look(document, 'metal', metal, 1), rubber: look(document, 'hose', rubber, 0) }
  const scene = document.createScene(name)
  scene.setExtras({ unit: 'm', axes: 'X of the bay is -Z here, Y is -X, Z is Y' })
  for (const part of modelParts(things)) {
    const mesh = document.createMesh(part.name)
    for (const shell of part.shells) {
      const { positions, indices } = arraysOf(shell)
      const primitive = document
        .createPrimitive()
        .setAttribute('POSITION', document.createAccessor().setType('VEC3').setArray(positions).setBuffer(buffer))
        .setIndices(document.createAccessor().setType('SCALAR').setArray(indices).setBuffer(buffer))
        .setMaterial(isRubber(part) ? looks.rubber : looks.metal)
      mesh.addPrimitive(primitive)
    }
    scene.addChild(document.createNode(part.name).setMesh(mesh))
  }
  return new WebIO().writeBinary(document)
}

const isRubber = ({ name }: ModelPart): boolean => name.startsWith('coupler-')

function look(document: Document, name: string, colour: typeof metal, metallic: number): Material {
  return document.createMaterial(name).setBaseColorFactor(colour).setMetallicFactor(metallic).setRoughnessFactor(0.6)
}

const millimetres = 1000

function arraysOf({ positions, triangles }: ClosedMesh) {
  const own = new Float32Array(positions.length)
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = positions.subarray(i)
    own.set([-y / millimetres, z / millimetres, -x / millimetres], i)
  }
  return { positions: own, indices: Uint32Array.from(triangles) }
}
