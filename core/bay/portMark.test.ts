import { expect, test } from 'vitest'
import { distance, dot, sub } from '../shape/vec.ts'
import { portMark } from './portMark.ts'

test('the ring lies square to the direction and has the diameter; the arrow goes the way the pipe does', () => {
  const port = { at: [1, 2, 3], direction: [0, -3, 4], outsideDiameter: 50 } as const
  const { ring, arrow } = portMark({ ...port, at: [...port.at], direction: [...port.direction] })
  for (const point of ring) {
    expect(distance(point, port.at)).toBeCloseTo(25, 9)
    expect(dot(sub(point, port.at), port.direction)).toBeCloseTo(0, 9)
  }
  expect(arrow[0]).toEqual(port.at)
  expect(sub(arrow[1], arrow[0]).map((x) => Math.round(x * 1e9) / 1e9)).toEqual([0, -45, 60])
})
