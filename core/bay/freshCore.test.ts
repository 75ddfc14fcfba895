import { describe, expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import { freshCore } from './freshCore.ts'
import type { Bay, KeepOut } from './schema.ts'

const empty = (keepOuts: KeepOut[], ports: Bay['ports'] = []): Bay => ({
  ...tinyBay(keepOuts, undefined, ports),
  candidates: [],
})
const wall = (id: string, at: [number, number, number], size: [number, number, number]) =>
  keepOut(id, { kind: 'box', at, size })

describe('a core to begin with', () => {
  test('in an empty bay: of the wanted size, about the origin', () => {
    expect(freshCore(empty([]))).toEqual({ at: [0, 0, 0], core: { depth: 65, width: 400, height: 200 } })
  })

  test('between two walls that are wide enough apart: in the middle, of the wanted size', () => {
    const { at, core } = freshCore(
      empty([wall('a', [0, -400, 50], [200, 20, 300]), wall('b', [0, 400, 50], [200, 20, 300])]),
    )
    expect(at).toEqual([0, 0, 50])
    expect(core).toEqual({ depth: 65, width: 400, height: 200 })
  })

  test('between ports alone: half-way', () => {
    const port = (id: string, at: [number, number, number]) => ({
      id,
      name: id,
      at,
      direction: [1, 0, 0] as [number, number, number],
      outsideDiameter: 57,
    })
    expect(freshCore(empty([], [port('a', [100, -400, 0]), port('b', [100, 400, 200])])).at).toEqual([100, 0, 100])
  })

  test('a floor below keeps it above, by clearance and uncertainty', () => {
    const floor: KeepOut = {
      id: 'f',
      name: 'f',
      role: 'body',
      shape: { kind: 'halfSpace', point: [0, 0, 0], normal: [0, 0, 1] },
    }
    const sides = [wall('a', [0, -600, 200], [200, 20, 400]), wall('b', [0, 600, 200], [200, 20, 400])]
    const { at, core } = freshCore(empty([floor, ...sides]))
    expect(at[2] - core.height / 2).toBeGreaterThanOrEqual(6 + 3)
  })

  // The grid and the whole steps leave less than the share that was found, never more.
  test('seed 11: in 60 bays of random boxes it keeps clear of every one that leaves room for a fifth of it', () => {
    const random = seeded(11)
    let tight = 0
    for (let n = 0; n < 60; n++) {
      const walls = Array.from({ length: 8 + random.int(10) }, (_, i) =>
        wall(
          `w${i}`,
          [random.real(-60, 60), random.real(-350, 350), random.real(-150, 150)],
          [random.real(40, 160), random.real(40, 250), random.real(40, 250)],
        ),
      )
      const { at, core } = freshCore(empty(walls))
      const sizes = [core.depth, core.width, core.height]
      if (core.width < 400) tight++
      const meets = walls.some(
        ({ shape }) =>
          shape.kind === 'box' && shape.at.every((c, k) => Math.abs(c - at[k]) < (shape.size[k] + sizes[k]) / 2 - 0.51),
      )
      if (core.width > 80) expect(meets).toBe(false)
    }
    expect(tight).toBeGreaterThan(3)
    expect(tight).toBeLessThan(57)
  })

  test('where there is no room at all it is small all the same', () => {
    const { core } = freshCore(empty([wall('all', [0, 0, 0], [1000, 1000, 1000])]))
    expect(core).toEqual({ depth: 10, width: 80, height: 40 })
  })
})
