import { describe, expect, test } from 'vitest'
import { solidOf } from '../../../core/shape/solid.ts'
import { displayOf } from '../../../core/shape/display.ts'
import type { Shape } from '../../../core/shape/registry.ts'
import { axesOf } from '../viewport/camera.ts'
import { outlineOf, type Place } from './outline.ts'

const area = (rings: readonly (readonly Place[])[]) =>
  rings.flat().length === 0
    ? 0
    : rings.reduce(
        (sum, ring) =>
          sum +
          ring.reduce((part, [x, y], i) => {
            const [u, v] = ring[(i + 1) % ring.length]
            return part + (x * v - u * y) / 2
          }, 0),
        0,
      )
const within = { min: [-500, -500, -500], max: [500, 500, 500] } as const
function outline(shape: Shape, azimuth: number, elevation: number) {
  const solid = solidOf(shape, { meshes: new Map() } as never)
  if (!solid.ok) throw new Error('no solid')
  const { right, up } = axesOf({ azimuth, elevation })
  return outlineOf(displayOf(solid.value, { within, sag: 0.001 }), right, up)
}

describe('the outline of a solid on a drawing', () => {
  const box: Shape = { kind: 'box', at: [10, 20, 30], size: [40, 60, 80] }
  test('of a box from the front is its face, and by its corner the sum of three faces each by its slope (geometry)', () => {
    const front = outline(box, 0, 0)
    expect(front).toHaveLength(1)
    expect(area(front)).toBeCloseTo(60 * 80, 3)
    const [a, e] = [0.62, 0.42]
    const { eye } = axesOf({ azimuth: a, elevation: e })
    const faces = Math.abs(eye[0]) * 60 * 80 + Math.abs(eye[1]) * 40 * 80 + Math.abs(eye[2]) * 40 * 60
    expect(area(outline(box, a, e))).toBeCloseTo(faces, 2)
  })

  test('of a ball-ended look at a cylinder: from its side a rectangle, from its end a circle (geometry)', () => {
    const cylinder: Shape = { kind: 'cylinder', from: [0, -50, 0], to: [0, 50, 0], radius: 20 }
    expect(area(outline(cylinder, 0, 0))).toBeCloseTo(100 * 40, -1)
    expect(area(outline(cylinder, Math.PI / 2, 0)) / (Math.PI * 400)).toBeCloseTo(1, 2)
  })
})
