/** Writers of mesh files for tests only: the program itself writes none. */
export interface PlainMesh {
  readonly positions: ArrayLike<number>
  readonly triangles: ArrayLike<number>
}

/** A box from 0 to size with corner 0 at the origin; 8 vertices, 12 triangles, outside out. */
export function boxMesh([x, y, z]: readonly [number, number, number]): PlainMesh {
  const positions = [0, 1, 2, 3, 4, 5, 6, 7].flatMap((i) => [i & 1 ? x : 0, i & 2 ? y : 0, i & 4 ? z : 0])
  const quads = [
    ...[
      [0, 2, 3, 1],
      [4, 5, 7, 6],
      [0, 1, 5, 4],
    ],
    ...[
      [2, 6, 7, 3],
      [0, 4, 6, 2],
      [1, 3, 7, 5],
    ],
  ]
  return { positions, triangles: quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d]) }
}

const utf8 = (text: string) => new TextEncoder().encode(text)
const corner = (mesh: PlainMesh, i: number) => {
  const v = mesh.triangles[i] * 3
  return [mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]]
}

/** @param count what the header says, when it is to lie */
export function stlBinary(mesh: PlainMesh, { header = '', count = mesh.triangles.length / 3 } = {}): Uint8Array {
  const triangles = mesh.triangles.length / 3
  const bytes = new Uint8Array(84 + 50 * triangles)
  bytes.set(utf8(header.padEnd(80)).subarray(0, 80))
  const view = new DataView(bytes.buffer)
  view.setUint32(80, count, true)
  for (let t = 0; t < triangles; t++)
    for (let c = 0; c < 3; c++)
      corner(mesh, 3 * t + c).forEach((x, k) => {
        view.setFloat32(84 + 50 * t + 12 + 12 * c + 4 * k, x, true)
      })
  return bytes
}

export function stlText(mesh: PlainMesh): Uint8Array {
  const lines = ['solid test']
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    lines.push(' facet normal 0 0 0', '  outer loop')
    for (let c = 0; c < 3; c++) lines.push(`   vertex ${corner(mesh, t + c).join(' ')}`)
    lines.push('  endloop', ' endfacet')
  }
  return utf8(`${lines.join('\n')}\nendsolid test\n`)
}

export function objText(mesh: PlainMesh): Uint8Array {
  const lines = ['# test']
  for (let v = 0; v < mesh.positions.length; v += 3)
    lines.push(`v ${mesh.positions[v]} ${mesh.positions[v + 1]} ${mesh.positions[v + 2]}`)
  for (let t = 0; t < mesh.triangles.length; t += 3)
    lines.push(`f ${mesh.triangles[t] + 1} ${mesh.triangles[t + 1] + 1} ${mesh.triangles[t + 2] + 1}`)
  return utf8(`${lines.join('\n')}\n`)
}

export type PlyFormat = 'ascii' | 'binary_little_endian' | 'binary_big_endian'

export function plyFile(mesh: PlainMesh, format: PlyFormat, type: 'float' | 'double' = 'double'): Uint8Array {
  const vertices = mesh.positions.length / 3
  const faces = mesh.triangles.length / 3
  const header = utf8(
    [
      ...['ply', `format ${format} 1.0`, 'comment made for a test', `element vertex ${vertices}`],
      ...['x', 'y', 'z'].map((axis) => `property ${type} ${axis}`),
      ...['property uchar red', `element face ${faces}`, 'property list uchar int vertex_indices', 'end_header', ''],
    ].join('\n'),
  )
  const data = format === 'ascii' ? plyText(mesh) : plyBytes(mesh, format === 'binary_little_endian', type)
  const bytes = new Uint8Array(header.length + data.length)
  bytes.set(header)
  bytes.set(data, header.length)
  return bytes
}

function plyText(mesh: PlainMesh): Uint8Array {
  const lines: string[] = []
  for (let v = 0; v < mesh.positions.length; v += 3)
    lines.push(`${mesh.positions[v]} ${mesh.positions[v + 1]} ${mesh.positions[v + 2]} 200`)
  for (let t = 0; t < mesh.triangles.length; t += 3)
    lines.push(`3 ${mesh.triangles[t]} ${mesh.triangles[t + 1]} ${mesh.triangles[t + 2]}`)
  return utf8(`${lines.join('\n')}\n`)
}

function plyBytes(mesh: PlainMesh, little: boolean, type: 'float' | 'double'): Uint8Array {
  const size = type === 'float' ? 4 : 8
  const vertexBytes = (mesh.positions.length / 3) * (3 * size + 1)
  const bytes = new Uint8Array(vertexBytes + (mesh.triangles.length / 3) * 13)
  const view = new DataView(bytes.buffer)
  for (let i = 0; i < mesh.positions.length; i++) {
    const at = Math.floor(i / 3) * (3 * size + 1) + (i % 3) * size
    if (type === 'float') view.setFloat32(at, mesh.positions[i], little)
    else view.setFloat64(at, mesh.positions[i], little)
  }
  for (let t = 0; t < mesh.triangles.length / 3; t++) {
    const at = vertexBytes + t * 13
    bytes[at] = 3
    for (let c = 0; c < 3; c++) view.setInt32(at + 1 + 4 * c, mesh.triangles[3 * t + c], little)
  }
  return bytes
}
