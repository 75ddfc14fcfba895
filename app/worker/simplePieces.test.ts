import { describe, expect, test } from 'vitest'
import type { Vec3 } from '../../core/shape/vec.ts'
import { solidOf } from '../../core/shape/solid.ts'
import type { Shape } from '../../core/shape/registry.ts'
import type { SimplePiece } from './protocol.ts'
import { simplePieces } from './simplePieces.ts'

const origin: Vec3 = [100, -50, 7]
function piecesOf(shape: Shape): SimplePiece[] {
  const solid = solidOf(shape, { meshes: new Map() })
  if (!solid.ok) throw new Error(JSON.stringify(solid.faults))
  return simplePieces(solid.value, origin)
}

/** What the shader does with a piece's numbers, in double precision. */
function holds({ kind, numbers: n }: SimplePiece, point: Vec3): boolean {
  const p = point.map((x, k) => x - origin[k])
  if (kind === 'planes') {
    for (let i = 0; i < n.length; i += 4)
      if (n[i] * p[0] + n[i + 1] * p[1] + n[i + 2] * p[2] > n[i + 3] + 1e-3) return false
    return true
  }
  const away = p.map((x, k) => x - n[k])
  const along = (k: number) => away[0] * n[k] + away[1] * n[k + 1] + away[2] * n[k + 2]
  if (kind === 'straight') {
    const t = along(3)
    return t >= 0 && t <= n[6] && Math.hypot(...away.map((x, k) => x - t * n[3 + k])) <= n[7]
  }
  const [x, y] = [along(3), along(6)]
  const z2 = away[0] ** 2 + away[1] ** 2 + away[2] ** 2 - x * x - y * y
  const turn = Math.atan2(y, x)
  return turn >= 0 && turn <= n[10] && (Math.hypot(x, y) - n[9]) ** 2 + z2 <= n[11] ** 2
}

const rows: [string, Shape, Vec3[], Vec3[]][] = [
  [
    'a box',
    { kind: 'box', at: [0, 0, 0], size: [20, 40, 60] },
    [
      [9, 19, 29],
      [-9, 0, 0],
    ],
    [
      [11, 0, 0],
      [0, 21, 0],
      [0, 0, -31],
    ],
  ],
  ['a half-space', { kind: 'halfSpace', point: [0, 0, -60], normal: [0, 0, 2] }, [[500, 900, -61]], [[0, 0, -59]]],
  [
    'a cylinder',
    { kind: 'cylinder', from: [0, 0, 0], to: [100, 0, 0], radius: 10 },
    [
      [1, 9, 0],
      [99, 0, -9],
    ],
    [
      [-1, 0, 0],
      [101, 0, 0],
      [50, 8, 8],
    ],
  ],
  [
    'a tube round a corner',
    {
      kind: 'tube',
      path: [
        [0, 0, 0],
        [100, 0, 0],
        [100, 100, 0],
      ],
      radius: 10,
      bendRadius: 30,
    },
    // The middle of the bend: 30 mm from (70, 30) towards the corner.
    [
      [10, 0, 9],
      [100, 90, -9],
      [70 + 30 * Math.SQRT1_2, 30 - 30 * Math.SQRT1_2, 9],
    ],
    [
      [99, 1, 0],
      [50, 0, 11],
      [70, 30, 0],
      [-1, 0, 0],
    ],
  ],
  [
    'a bent sweep',
    {
      kind: 'sweep',
      section: [
        [-5, -5],
        [5, -5],
        [5, 5],
        [-5, 5],
      ],
      path: [
        [0, 0, 0],
        [100, 0, 0],
        [100, 100, 0],
      ],
      up: [0, 0, 1],
    },
    [
      [50, 4, 4],
      [100, 50, -4],
      [104, -4, 0],
    ],
    [
      [50, 6, 0],
      [94, 50, 0],
      [106, 0, 0],
    ],
  ],
]

describe('pieces that a shader can test', () => {
  test.each(rows)('%s', (_, shape, inside, outside) => {
    const pieces = piecesOf(shape)
    expect(pieces.length).toBeGreaterThan(0)
    for (const point of inside)
      expect(
        pieces.some((piece) => holds(piece, point)),
        `${point} is inside`,
      ).toBe(true)
    for (const point of outside)
      expect(
        pieces.some((piece) => holds(piece, point)),
        `${point} is outside`,
      ).toBe(false)
  })

  test('a hull with too many faces is none of them', () => {
    const points = Array.from({ length: 120 }, (_, i): [number, number, number] => {
      const [turn, z] = [i * 2.399963, 1 - (2 * i + 1) / 120]
      const r = Math.sqrt(1 - z * z)
      return [100 * r * Math.cos(turn), 100 * r * Math.sin(turn), 100 * z]
    })
    expect(piecesOf({ kind: 'hull', points })).toEqual([])
  })
})
