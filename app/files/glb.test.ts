import { Accessor, Document, type Node, Primitive, WebIO } from '@gltf-transform/core'
import { beforeAll, describe, expect, test } from 'vitest'
import { everyImporter } from '../../test/kit/everyImporter.ts'
import { boxMesh } from '../../test/kit/meshWriters.ts'
import { glb } from './glb.ts'
import { defaultLimits } from './rawMesh.ts'

/* The files here are written by @gltf-transform/core, a library that shares no line with the reader. */
const box = boxMesh([0.5, 0.25, 0.125])

/** A document with the box as one mesh, and what `arrange` makes of it. */
async function written(
  arrange: (document: Document, node: Node) => void = () => {},
  type: 'float' | 'short' = 'float',
): Promise<Uint8Array> {
  const document = new Document()
  const buffer = document.createBuffer()
  const array =
    type === 'float' ? new Float32Array(box.positions) : new Int16Array(Array.from(box.positions, (x) => x * 32767))
  const positions = document
    .createAccessor()
    .setType(Accessor.Type.VEC3)
    .setArray(array)
    .setNormalized(type === 'short')
    .setBuffer(buffer)
  const indices = document
    .createAccessor()
    .setType(Accessor.Type.SCALAR)
    .setArray(new Uint16Array(box.triangles))
    .setBuffer(buffer)
  const primitive = document.createPrimitive().setAttribute('POSITION', positions).setIndices(indices)
  const node = document.createNode('box').setMesh(document.createMesh().addPrimitive(primitive))
  document.createScene().addChild(node)
  arrange(document, node)
  return new WebIO().writeBinary(document)
}
const read = (bytes: Uint8Array) => glb.read(bytes, defaultLimits)
async function meshOf(bytes: Uint8Array | Promise<Uint8Array>) {
  const raw = read(await bytes)
  if (!raw.ok) throw new Error(JSON.stringify(raw.faults))
  return raw.value
}

// biome-ignore lint/suspicious/noExplicitAny: tests put anything anywhere
type Anything = any

/** The same file with its JSON changed, lengths put right. */
function edited(bytes: Uint8Array, edit: (json: Anything) => void): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const length = view.getUint32(12, true)
  const json = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + length)))
  edit(json)
  const text = new TextEncoder().encode(JSON.stringify(json))
  const padded = new Uint8Array(Math.ceil(text.length / 4) * 4).fill(32)
  padded.set(text)
  const rest = bytes.subarray(20 + length)
  const out = new Uint8Array(20 + padded.length + rest.length)
  out.set(bytes.subarray(0, 20))
  out.set(padded, 20)
  out.set(rest, 20 + padded.length)
  const outView = new DataView(out.buffer)
  outView.setUint32(8, out.length, true)
  outView.setUint32(12, padded.length, true)
  return out
}

const plain = await written()
everyImporter(glb, { name: 'one box', bytes: plain, mesh: box, endsKnown: true })

describe('GLB', () => {
  let bytes: Uint8Array
  beforeAll(async () => {
    bytes = await written()
  })

  test('transforms of nodes within nodes apply, innermost first', async () => {
    const mesh = await meshOf(
      written((document, node) => {
        node.setTranslation([1, 2, 3]).setRotation([0, 0, Math.SQRT1_2, Math.SQRT1_2])
        const outer = document.createNode('outer').setScale([2, 1, 1]).addChild(node)
        document.getRoot().listScenes()[0].removeChild(node).addChild(outer)
      }),
    )
    // Corner (0.5, 0, 0): a quarter turn about Z makes it (0, 0.5, 0), moved (1, 2.5, 3), stretched (2, 2.5, 3).
    const at = Array.from(box.positions).findIndex((x, i) => i % 3 === 0 && x === 0.5)
    expect([...mesh.positions.subarray(at, at + 3)]).toEqual([expect.closeTo(2, 12), expect.closeTo(2.5, 12), 3])
  })

  test('a matrix does the same as its parts, and a mirroring one turns the triangles round', async () => {
    const mirrored = await meshOf(
      written((_, node) => node.setMatrix([-1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 5, 0, 0, 1])),
    )
    expect([...mirrored.triangles.subarray(0, 3)]).toEqual([box.triangles[0], box.triangles[2], box.triangles[1]])
    expect(Math.max(...mirrored.positions.filter((_, i) => i % 3 === 0))).toBe(5)
  })

  test('one mesh on two nodes, and two primitives, are all joined', async () => {
    const mesh = await meshOf(
      written((document, node) => {
        const second = document.createNode('second').setMesh(node.getMesh()).setTranslation([0, 0, 9])
        document.getRoot().listScenes()[0].addChild(second)
        const primitive = node.getMesh()?.listPrimitives()[0] as Primitive
        node.getMesh()?.addPrimitive(primitive.clone())
      }),
    )
    expect(mesh.triangles.length).toBe(4 * box.triangles.length)
    expect(Math.max(...mesh.triangles)).toBe(mesh.positions.length / 3 - 1)
  })

  test('shorter number types are scaled as the standard says', async () => {
    const mesh = await meshOf(written(undefined, 'short'))
    expect(Math.max(...mesh.positions)).toBeCloseTo(0.5, 4)
  })

  test('lines and points are passed over; a file of nothing else has no triangles', async () => {
    const lines = await written((_, node) => node.getMesh()?.listPrimitives()[0].setMode(Primitive.Mode.LINES))
    expect(read(lines)).toMatchObject({ ok: false, faults: [{ code: 'mesh-no-triangles' }] })
  })

  test.each<[string, (json: Anything) => void, object]>([
    [
      'a buffer in another file',
      (j) => (j.buffers[0].uri = 'box.bin'),
      { code: 'mesh-external', field: 'buffers[0].uri', got: 'box.bin' },
    ],
    ['a buffer on the network', (j) => (j.buffers[0].uri = 'https://example.org/box.bin'), { code: 'mesh-external' }],
    [
      'a compressed mesh',
      (j) => (j.extensionsRequired = ['KHR_draco_mesh_compression']),
      { code: 'mesh-unsupported', got: 'the extension KHR_draco_mesh_compression' },
    ],
    [
      'an index that counts beyond the data',
      (j) => (j.accessors[0].count = 9000),
      { code: 'mesh-truncated', got: 'a view that ends before them' },
    ],
    [
      'a count that would take all memory',
      (j) => (j.accessors[0].count = 4e15),
      { code: 'mesh-too-big', field: 'accessors[0]' },
    ],
    ['a view beyond the data', (j) => (j.bufferViews[0].byteOffset = 1e12), { code: 'mesh-truncated' }],
    ['a node inside itself', (j) => (j.nodes[0].children = [0]), { code: 'mesh-syntax', field: 'nodes[0]' }],
    ['a node that is not there', (j) => (j.scenes[0].nodes = [7]), { code: 'mesh-syntax', field: 'nodes[7]' }],
    ['a mesh that is not there', (j) => (j.nodes[0].mesh = 7), { code: 'mesh-syntax', field: 'nodes[0].mesh' }],
    ['a skin', (j) => (j.nodes[0].skin = 0), { code: 'mesh-unsupported', got: 'a skin on nodes[0]' }],
    ['a strip', (j) => (j.meshes[0].primitives[0].mode = 5), { code: 'mesh-unsupported', got: 'mode 5 in meshes[0]' }],
    ['a string for a number', (j) => (j.nodes[0].mesh = '0'), { code: 'mesh-syntax', field: 'nodes.0.mesh' }],
    [
      'a transform beyond all bounds',
      (j) => (j.nodes[0].scale = [1e308, 1e308, 1e308].map((x) => x * 10)),
      { code: 'mesh-syntax' },
    ],
    [
      'a transform that overflows',
      (j) => (j.nodes[0] = { mesh: 0, matrix: [1e308, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 1.7e308, 0, 0, 1] }),
      { code: 'mesh-not-finite' },
    ],
    ['version 1', (j) => (j.asset.version = 1), { code: 'mesh-syntax', field: 'asset.version' }],
  ])('%s is refused by name', (_, edit, fault) => {
    expect(read(edited(bytes, edit))).toMatchObject({ ok: false, faults: [fault] })
  })

  test('an index beyond the vertices is named by face', () => {
    const lying = bytes.slice()
    const json = JSON.parse(
      new TextDecoder().decode(
        bytes.subarray(20, 20 + new DataView(bytes.buffer, bytes.byteOffset).getUint32(12, true)),
      ),
    )
    const at =
      bytes.length -
      json.buffers[0].byteLength +
      (json.bufferViews[json.accessors[json.meshes[0].primitives[0].indices].bufferView].byteOffset ?? 0)
    new DataView(lying.buffer).setUint16(at + 8, 300, true)
    expect(read(lying)).toMatchObject({ ok: false, faults: [{ code: 'mesh-bad-index', item: 'face 2', got: 300 }] })
  })

  test('JSON nested without end is refused before it is parsed', () => {
    const deep = edited(bytes, (j) => (j.extras = JSON.parse(`${'['.repeat(200)}${']'.repeat(200)}`)))
    expect(read(deep)).toMatchObject({ ok: false, faults: [{ code: 'mesh-syntax', field: 'JSON chunk' }] })
  })
})
