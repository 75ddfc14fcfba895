import { describe, expect, test } from 'vitest'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { onScreen, startRig } from './camera.ts'
import { dragged, keyAxes, keyWay } from './cornerWays.ts'

const frame = { width: 800, height: 600 }
const fine = { oneAxis: false, step: 1e-6 }

describe('a corner that is dragged', () => {
  test('goes where the pointer goes, in any view', () => {
    for (const view of ['space', 'front', 'side', 'plan'] as const) {
      const rig = { ...startRig(view), target: [10, 20, 30] as Vec3, scale: 0.7 }
      const from: Vec3 = [-60, -500, 135.4]
      const [x, y] = onScreen(from, rig, frame)
      const [x2, y2] = onScreen(dragged(from, [37, -52], rig, fine), rig, frame)
      expect(x2 - x).toBeCloseTo(37, 4)
      expect(y2 - y).toBeCloseTo(-52, 4)
    }
  })

  test('in front, side and plan stays in the plane of the drawing to the last bit', () => {
    const from: Vec3 = [-60.123456789, -500.3, 135.4]
    const depthAxis = { front: 0, side: 1, plan: 2 } as const
    for (const view of ['front', 'side', 'plan'] as const) {
      const to = dragged(from, [13, 57], startRig(view), { oneAxis: false, step: 1 })
      for (const k of [0, 1, 2])
        if (k === depthAxis[view]) expect(to[k]).toBe(from[k])
        else expect(Number.isInteger(to[k])).toBe(true)
    }
  })

  test('with Shift follows the one axis that the pointer goes along', () => {
    // Seen from the front, the car's right is at the left; upwards is +Z.
    const front = { ...startRig('front'), scale: 2 }
    expect(dragged([1, 2, 3], [20, 3], front, { oneAxis: true, step: 1 })).toEqual([1, -38, 3])
    expect(dragged([1, 2, 3], [2, -30], front, { oneAxis: true, step: 1 })).toEqual([1, 2, 63])
    const space = startRig('space')
    for (const axis of [0, 1, 2]) {
      const unit = [0, 1, 2].map((k) => (k === axis ? 100 : 0)) as unknown as Vec3
      const [[x0, y0], [x1, y1]] = [onScreen([0, 0, 0], space, frame), onScreen(unit, space, frame)]
      const to = dragged([0, 0, 0], [x1 - x0, y1 - y0], space, { oneAxis: true, step: 1 })
      expect(to).toEqual(unit)
    }
  })
})

describe('keys', () => {
  test('move along the axes as the drawing shows them', () => {
    expect(keyAxes(startRig('front'))).toEqual({ across: [0, -1, 0], up: [0, 0, 1], towards: [-1, 0, 0] })
    // Side looks from the left: rearward is to the right.
    expect(keyWay('ArrowRight', startRig('side'))).toEqual([1, 0, 0])
    expect(keyWay('PageUp', startRig('plan'))).toEqual([0, 0, 1])
    expect(keyWay('Home', startRig('plan'))).toBeNull()
  })

  test('six keys reach six ways, in every view', () => {
    for (const view of ['space', 'front', 'side', 'plan'] as const) {
      const keys = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'PageUp', 'PageDown']
      const ways = new Set(
        keys.map((key) =>
          keyWay(key, startRig(view))
            ?.map((x) => x + 0)
            .join(),
        ),
      )
      expect(ways.size).toBe(6)
    }
  })
})
