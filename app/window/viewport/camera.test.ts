import { describe, expect, test } from 'vitest'
import { axesOf, between, fitted, flownTo, type Frame, onScreen, orbited, panned, startRig, zoomed } from './camera.ts'

const frame: Frame = { width: 800, height: 600, top: 50, bottom: 150, left: 20, right: 20 }
const bounds = { min: [-300, -700, -100], max: [200, 700, 500] } as const

describe('views of a drawing sheet', () => {
  // First-angle habit of drawing sheets: seen from the front, the car's right is at the left; the plan lies below the front view.
  test.each([
    ['front', [0, -1, 0], [0, 0, 1]],
    ['side', [1, 0, 0], [0, 0, 1]],
    ['plan', [0, -1, 0], [1, 0, 0]],
  ] as const)('%s', (view, right, up) => {
    const axes = axesOf(startRig(view))
    for (const k of [0, 1, 2]) expect(axes.right[k]).toBeCloseTo(right[k], 12)
    for (const k of [0, 1, 2]) expect(axes.up[k]).toBeCloseTo(up[k], 12)
  })
})

describe('looking around', () => {
  test('fit brings all corners into the free part of the picture, and fills it', () => {
    for (const view of ['space', 'front', 'side', 'plan'] as const) {
      const rig = fitted(startRig(view), bounds, frame)
      const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
        [0, 1, 2].map((k) => ((i >> k) & 1 ? bounds.max[k] : bounds.min[k])),
      )
      const points = corners.map((c) => onScreen(c as [number, number, number], rig, frame))
      const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])]
      expect(Math.min(...xs)).toBeGreaterThanOrEqual(frame.left)
      expect(Math.max(...xs)).toBeLessThanOrEqual(frame.width - frame.right)
      expect(Math.min(...ys)).toBeGreaterThanOrEqual(frame.top)
      expect(Math.max(...ys)).toBeLessThanOrEqual(frame.height - frame.bottom)
      const filled = [(Math.max(...xs) - Math.min(...xs)) / 760, (Math.max(...ys) - Math.min(...ys)) / 400]
      expect(Math.max(...filled)).toBeGreaterThan(0.9)
    }
  })

  test('what lies under the pointer stays there while zooming, and moves with it while panning', () => {
    const rig = fitted(startRig('space'), bounds, frame)
    const point = [10, 200, 30] as const
    const [x, y] = onScreen(point, rig, frame)
    const closer = zoomed(rig, 1.7, [x - 400, y - 300])
    const stayed = onScreen(point, closer, frame)
    for (const k of [0, 1]) expect(stayed[k]).toBeCloseTo([x, y][k], 9)
    const moved = onScreen(point, panned(rig, 13, -7), frame)
    expect(moved[0]).toBeCloseTo(x + 13, 9)
    expect(moved[1]).toBeCloseTo(y - 7, 9)
  })

  test('the eye goes no further than straight above', () => {
    expect(orbited(startRig('space'), 0, 10).elevation).toBeCloseTo(Math.PI / 2, 12)
  })

  test('a gap along the line of sight is looked at from aside, and lies in the middle of the free part', () => {
    const rig = fitted(startRig('space'), bounds, frame)
    const { eye } = axesOf(rig)
    const from = [1, 2, 3] as const
    const to = [1 + 9 * eye[0], 2 + 9 * eye[1], 3 + 9 * eye[2]] as const
    const flown = flownTo(rig, from, to, frame, true)
    const [a, b] = [onScreen(from, flown, frame), onScreen(to, flown, frame)]
    expect(Math.hypot(a[0] - b[0], a[1] - b[1]) * flown.scale).toBeGreaterThan(9 * 0.6)
    expect((a[0] + b[0]) / 2).toBeCloseTo(400, 6)
    expect((a[1] + b[1]) / 2).toBeCloseTo(250, 6)
  })

  test('the way between two rigs begins and ends with them and turns the short way', () => {
    const from = { ...startRig('space'), azimuth: 3 }
    const to = { ...startRig('space'), azimuth: -3, scale: 8 }
    expect(between(from, to, 0)).toEqual(from)
    expect(between(from, to, 0.5).azimuth).toBeCloseTo(Math.PI, 1)
    expect(between(from, to, 0.5).scale).toBeCloseTo(4, 12)
    expect(Math.cos(between(from, to, 1).azimuth - to.azimuth)).toBeCloseTo(1, 12)
  })
})
