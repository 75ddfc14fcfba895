// Writes bumper.ply.gz: the inside of the Tarnbeck 300's bumper cover as a bumpy open shell, like a hand-held scan of it.
// Invented geometry; one seed, same bytes from run to run. Run: node assets/tarnbeck/bumper.mjs
import { writeFileSync } from 'node:fs'
import { gzipSync } from 'node:zlib'

const columns = 360 // along Y
const rows = 150 // round the profile, top edge to lower lip
const halfWidth = 720

/** Small linear congruential generator (constants of Numerical Recipes, from memory): 0 ≤ value < 1. */
function seeded(seed) {
  let state = seed >>> 0
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 4294967296
  }
}

// Profile at the centre line as (x behind the foremost line, z): top flange, face, chin, lip.
const profile = [
  [62, 412],
  [34, 408],
  [14, 385],
  [4, 330],
  [0, 250],
  [3, 160],
  [9, 70],
  [24, 5],
  [58, -30],
  [112, -43],
  [150, -46],
]

/** Catmull-Rom through the profile: smooth and passing through each point. */
function profileAt(share) {
  const t = share * (profile.length - 1)
  const i = Math.min(Math.floor(t), profile.length - 2)
  const f = t - i
  const point = (k) => profile[Math.min(Math.max(k, 0), profile.length - 1)]
  return [0, 1].map((axis) => {
    const [a, b, c, d] = [i - 1, i, i + 1, i + 2].map((k) => point(k)[axis])
    return 0.5 * (2 * b + (c - a) * f + (2 * a - 5 * b + 4 * c - d) * f * f + (3 * b - a - 3 * c + d) * f * f * f)
  })
}

const random = seeded(300)
// Bosses, clip towers and dents of the moulding: place along Y, place on the profile, reach, height into the bay.
const bosses = Array.from({ length: 64 }, () => ({
  y: (random() * 2 - 1) * halfWidth * 0.95,
  share: 0.05 + random() * 0.85,
  reach: 9 + random() * 26,
  height: (random() < 0.7 ? 1 : -0.5) * (2 + random() * 9),
}))

function depthAt(y, share) {
  let depth = 1.6 * Math.sin(y / 31) * Math.sin(share * 24) + 0.7 * Math.sin(y / 9.7 + share * 61) // ribs and waviness
  for (const boss of bosses) {
    const along = (y - boss.y) / boss.reach
    const round = ((share - boss.share) * 760) / boss.reach
    const square = along * along + round * round
    if (square < 12) depth += boss.height * Math.exp(-square)
  }
  return depth + (random() - 0.5) * 0.5 // scan noise
}

const vertices = []
for (let row = 0; row <= rows; row++) {
  for (let column = 0; column <= columns; column++) {
    const y = halfWidth * ((2 * column) / columns - 1)
    const share = row / rows
    const [behind, z] = profileAt(share)
    const wrap = 185 * (Math.abs(y) / halfWidth) ** 2.3
    const inward = depthAt(y, share)
    vertices.push([-332 + wrap + behind + inward, y * (1 - 0.00006 * wrap), z + (share > 0.75 ? 0.4 * inward : 0)])
  }
}

const vertexBytes = Buffer.alloc(vertices.length * 12)
vertices.forEach((vertex, index) => {
  // 0.02 mm steps: far below the scan's own noise, and the file packs to a third.
  for (const [axis, value] of vertex.entries())
    vertexBytes.writeFloatLE(Math.round(value * 50) / 50, index * 12 + axis * 4)
})
const faces = []
for (let row = 0; row < rows; row++) {
  for (let column = 0; column < columns; column++) {
    const a = row * (columns + 1) + column
    const b = a + columns + 1
    faces.push([a, a + 1, b], [a + 1, b + 1, b])
  }
}
const faceBytes = Buffer.alloc(faces.length * 13)
faces.forEach((face, index) => {
  faceBytes.writeUInt8(3, index * 13)
  for (const [corner, vertex] of face.entries()) faceBytes.writeInt32LE(vertex, index * 13 + 1 + corner * 4)
})
const header = `ply
format binary_little_endian 1.0
comment Tarnbeck 300, bumper cover, inside; invented
element vertex ${vertices.length}
property float x
property float y
property float z
element face ${faces.length}
property list uchar int vertex_indices
end_header
`
const file = new URL('bumper.ply.gz', import.meta.url)
const packed = gzipSync(Buffer.concat([Buffer.from(header), vertexBytes, faceBytes]), { level: 9 })
writeFileSync(file, packed)
console.log(`${faces.length} triangles, ${packed.length} bytes`)
