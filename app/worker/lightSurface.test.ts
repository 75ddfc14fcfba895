import { expect, test } from 'vitest'
import { heavyTriangles, lightSurface } from './lightSurface.ts'
import type { Surface } from './protocol.ts'

/** A bowl over n × n squares, seen from above. */
function bowl(n: number): Surface {
  const positions = new Float32Array(3 * (n + 1) ** 2)
  const normals = new Float32Array(positions.length)
  const triangles = new Uint32Array(6 * n * n)
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= n; j++) {
      const v = i * (n + 1) + j
      const [x, y] = [i / n - 0.5, j / n - 0.5]
      positions.set([1000 * x, 1000 * y, 1000 * (x * x + y * y)], 3 * v)
      normals.set([0, 0, 1], 3 * v)
    }
  for (let i = 0, t = 0; i < n; i++)
    for (let j = 0; j < n; j++, t += 6) {
      const [a, b, c, d] = [i * (n + 1) + j, (i + 1) * (n + 1) + j, (i + 1) * (n + 1) + j + 1, i * (n + 1) + j + 1]
      triangles.set([a, b, c, a, c, d], t)
    }
  return { positions, normals, triangles }
}

/** Twice the area as seen from above: positive where triangles keep their sense. */
const seenFromAbove = ({ positions: p, triangles }: Surface) => {
  let sum = 0
  let turned = 0
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [3 * triangles[i], 3 * triangles[i + 1], 3 * triangles[i + 2]]
    const twice = (p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a])
    sum += twice
    if (twice < -1e-3) turned++
  }
  return { area: sum / 2, turned }
}

test('a light surface is left alone', () => {
  expect(lightSurface(bowl(100))).toBeNull()
})

test('a heavy one becomes much lighter and stays where it was', () => {
  const heavy = bowl(400)
  expect(heavy.triangles.length / 3).toBeGreaterThan(heavyTriangles)
  const light = lightSurface(heavy)!
  expect(light.triangles.length).toBeLessThan(heavy.triangles.length / 4)
  expect(light.triangles.length / 3).toBeGreaterThan(2000)
  const vertices = light.positions.length / 3
  for (let i = 0; i < light.triangles.length; i += 3) {
    const three = [...light.triangles.subarray(i, i + 3)]
    expect(Math.max(...three)).toBeLessThan(vertices)
    expect(new Set(three).size).toBe(3)
  }
  // Clusters lie within the surface, so the rim moves in by a cell at most: 1000 mm over 96 cells.
  const { area, turned } = seenFromAbove(light)
  expect(area).toBeGreaterThan((1000 - 2 * (1000 / 96)) ** 2)
  expect(area).toBeLessThan(1000 ** 2)
  expect(turned).toBe(0)
  for (let v = 0; v < vertices; v++) {
    const [x, y, z] = light.positions.subarray(3 * v, 3 * v + 3)
    // The mean of a cell lies above the bowl by less than its sagitta, 2 · (10.5/2)² / 1000 twice over.
    expect(Math.abs(z - (x * x + y * y) / 1000)).toBeLessThan(0.2)
  }
})
