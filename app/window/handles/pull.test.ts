import { describe, expect, test } from 'vitest'
import { along, dot, turned, turnMatrix, type Vec3 } from '../../../core/shape/vec.ts'
import { axesOf, onScreen, startRig } from '../viewport/camera.ts'
import { arrowWay, canSlide, canTurn, slideBy, turnBy } from './pull.ts'

const frame = { width: 800, height: 600 }
const axes: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]
const views = ['space', 'front', 'side', 'plan'] as const

describe('a pull', () => {
  test('along the picture of a direction goes as far as the pointer', () => {
    for (const view of views) {
      const rig = { ...startRig(view), target: [10, 20, 30] as Vec3, scale: 0.7 }
      for (const way of axes.filter((axis) => canSlide(axis, rig))) {
        const from: Vec3 = [-60, -500, 135]
        const [[x, y], [x2, y2]] = [onScreen(from, rig, frame), onScreen(along(from, way, 37), rig, frame)]
        expect(slideBy(way, [x2 - x, y2 - y], rig)).toBeCloseTo(37, 6)
        // Across it, nothing happens.
        expect(slideBy(way, [y - y2, x2 - x], rig)).toBeCloseTo(0, 6)
      }
    }
  })

  test('in a flat drawing two directions can be pulled and one turn, in space all', () => {
    for (const view of views) {
      const rig = startRig(view)
      const flat = view !== 'space'
      expect(axes.filter((axis) => canSlide(axis, rig))).toHaveLength(flat ? 2 : 3)
      expect(axes.filter((axis) => canTurn(axis, rig))).toHaveLength(flat ? 1 : 3)
    }
  })

  test('round an axis turns as far as its grip has to go there', () => {
    for (const view of views) {
      const rig = startRig(view)
      axes.forEach((axis, k) => {
        if (!canTurn(axis, rig)) return
        const centre: Vec3 = [-70, 30, 190]
        const arm: Vec3 = [k === 0 ? 0 : 120, k === 1 ? 0 : 150, k === 2 ? 0 : 90]
        for (const degrees of [0.5, -2]) {
          const turn = [0, 0, 0].map((_, i) => (i === k ? degrees : 0)) as unknown as Vec3
          const at = along(centre, arm, 1)
          const to = along(centre, turned(turnMatrix(turn), arm), 1)
          const [[x, y], [x2, y2]] = [onScreen(at, rig, frame), onScreen(to, rig, frame)]
          const got = turnBy({ axis, centre, at }, [x2 - x, y2 - y], rig)
          // Seen rather from the side only the first way of the turn is followed: good to its square, in radians.
          expect(got).toBeCloseTo(degrees, Math.abs(dot(axis, axesOf(rig).eye)) > 0.5 ? 6 : 1)
        }
      })
    }
  })
})

test('arrow keys go as they point: a front face grows to the left where the front is at the left', () => {
  const side = startRig('side')
  expect(arrowWay('ArrowLeft', [-1, 0, 0], side)).toBe(1)
  expect(arrowWay('ArrowRight', [-1, 0, 0], side)).toBe(-1)
  expect(arrowWay('ArrowUp', [-1, 0, 0], side)).toBe(1)
  expect(arrowWay('ArrowUp', [0, 0, -1], side)).toBe(-1)
  expect(arrowWay('Home', [0, 0, 1], side)).toBeNull()
})
