import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyDirection, anyNumber, anyPoint, type Triple } from '../../test/kit/anyShape.ts'
import { everySolid } from '../../test/kit/everySolid.ts'
import { displayOf } from './display.ts'
import type { Polytope, Solid } from './form.ts'
import { solidVolume } from './measure.ts'
import { vertexAt } from './polytope.ts'
import type { Shape } from './registry.ts'
import { solidOf } from './solid.ts'
import { add, cross, scale, squareTo, unit, type Vec3 } from './vec.ts'

const beam = {
  kind: 'sweep' as const,
  section: [
    [-30, -60],
    [30, -60],
    [30, 60],
    [-30, 60],
  ] as [number, number][],
  path: [
    [-110, -560, 260],
    [-170, 0, 260],
    [-110, 560, 260],
  ] as Triple[],
  up: [0, 0, 1] as Triple,
}

/** A path of legs that hold their mitres (sections reach 40 from it), in a plane square to any direction. */
const anySweep = fc
  .record({
    radii: fc.array(anyNumber(5, 40), { minLength: 4, maxLength: 9 }),
    clockwise: fc.boolean(),
    legs: fc.array(fc.tuple(anyNumber(150, 400), anyNumber(-100, 100)), { minLength: 1, maxLength: 6 }),
    start: anyPoint,
    up: anyDirection,
  })
  .map(({ radii, clockwise, legs, start, up }) => {
    const around = radii.map((r, i): [number, number] => {
      const a = (2 * Math.PI * i) / radii.length
      return [r * Math.cos(a), r * Math.sin(a)]
    })
    const [e, f] = squareTo(unit(up))
    const path: Vec3[] = [start]
    let heading = 0
    for (const [long, turn] of legs) {
      heading += (turn * Math.PI) / 180
      path.push(add(path[path.length - 1], add(scale(e, long * Math.cos(heading)), scale(f, long * Math.sin(heading)))))
    }
    return { kind: 'sweep' as const, section: clockwise ? around.reverse() : around, path: path as Triple[], up }
  })

everySolid({
  kind: 'sweep',
  seed: 4105,
  any: anySweep,
  broken: [
    {
      name: 'two section corners',
      shape: {
        ...beam,
        section: [
          [0, 0],
          [1, 0],
        ],
      },
      fault: 'schema',
    },
    { name: 'a path of one point', shape: { ...beam, path: [[0, 0, 0]] }, fault: 'schema' },
    { name: 'an up of zero', shape: { ...beam, up: [0, 0, 0] }, fault: 'schema' },
    {
      name: 'a self-crossing section',
      shape: {
        ...beam,
        section: [
          [0, 0],
          [9, 9],
          [9, 0],
          [0, 9],
        ],
      },
      fault: ['self-crossing', 'shape.section'],
    },
    {
      name: 'a section of no area',
      shape: {
        ...beam,
        section: [
          [0, 0],
          [9, 9],
          [3, 3],
        ],
      },
      fault: ['zero-area', 'shape.section'],
    },
    {
      name: 'a repeated section corner',
      shape: {
        ...beam,
        section: [
          [0, 0],
          [9, 0],
          [9, 9],
          [9, 0],
        ],
      },
      fault: ['repeated-point', 'shape.section[3]'],
    },
    {
      name: 'a path that leaves its plane',
      shape: {
        ...beam,
        path: [
          [0, 0, 0],
          [500, 0, 0],
          [900, 300, 0.01],
        ],
      },
      fault: ['path-out-of-plane', 'shape.path[2]'],
    },
    {
      name: 'a repeated path point',
      shape: {
        ...beam,
        path: [
          [0, 0, 0],
          [500, 0, 0],
          [500, 0, 0],
        ],
      },
      fault: ['zero-length', 'shape.path[2]'],
    },
    {
      name: 'a path along up',
      shape: {
        ...beam,
        path: [
          [0, 0, 0],
          [0, 0, 500],
        ],
      },
      fault: ['path-out-of-plane', 'shape.path[1]'],
    },
    {
      name: 'a path that turns back',
      shape: {
        ...beam,
        path: [
          [0, 0, 0],
          [500, 0, 0],
          [100, 0, 0],
        ],
      },
      fault: ['turns-back', 'shape.path[1]'],
    },
    {
      name: 'mitres that overrun their leg',
      shape: {
        ...beam,
        path: [
          [0, 0, 0],
          [500, 0, 0],
          [500, 50, 0],
          [0, 50, 0],
        ],
      },
      fault: ['mitre-overruns', 'shape.path[2]'],
    },
  ],
})

const solid = (shape: Shape): Solid => {
  const made = solidOf(shape, { meshes: new Map() })
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}
const bodies = ({ forms }: Solid): Polytope[] =>
  forms.map((form) => {
    if (form.form !== 'convex' || form.body.kind !== 'polytope') throw new Error('not a polytope')
    return form.body
  })

describe('sweep', () => {
  it('should lay u along up × travel and v along up', () => {
    // Travel along X, up along Z: u is Y. A section off to +u, +v lies at +Y, +Z.
    const { bounds } = solid({
      ...beam,
      section: [
        [1, 2],
        [4, 2],
        [4, 7],
        [1, 7],
      ],
      path: [
        [0, 0, 0],
        [10, 0, 0],
      ],
    })
    expect(bounds).toEqual({ min: [0, 1, 2], max: [10, 4, 7] })
  })

  it('should have the volume of area times path where the section is centred, mitres and all', () => {
    // What a mitre takes from the inside of a corner it adds outside (Pappus and Guldin for a path of straights).
    const path = Math.hypot(60, 560) * 2
    expect(solidVolume(solid(beam))).toBeCloseTo(60 * 120 * path, 3)
  })

  it('should cut mitres in the plane that halves the corner', () => {
    const [first, second] = bodies(
      solid({
        ...beam,
        path: [
          [0, 0, 0],
          [500, 0, 0],
          [500, 500, 0],
        ],
      }),
    )
    const end = [4, 5, 6, 7].map((i) => vertexAt(first, i))
    for (const [x, y] of end) expect(x - 500).toBeCloseTo(-y, 9)
    // The next piece begins at the very same corners.
    expect([0, 1, 2, 3].map((i) => vertexAt(second, i))).toEqual(end)
  })

  it('should give the same solid for a section given the other way round', () => {
    const back = { ...beam, section: [...beam.section].reverse() }
    expect(solid(back).bounds).toEqual(solid(beam).bounds)
    expect(solidVolume(solid(back))).toBe(solidVolume(solid(beam)))
  })

  it('should cut a non-convex section on each leg and show it without seams', () => {
    const gutter: [number, number][] = [
      [0, 0],
      [30, 0],
      [30, 20],
      [20, 20],
      [20, 10],
      [10, 10],
      [10, 20],
      [0, 20],
    ]
    const made = solid({
      ...beam,
      section: gutter,
      path: [
        [0, 0, 0],
        [400, 0, 0],
        [400, 400, 0],
      ],
    })
    expect(made.forms).toHaveLength(6)
    // Eight edges along each leg and eight around each end; around the mitre only the four of faces that turn with the
    // path, since faces square to up run on in their plane.
    expect(displayOf(made, { within: made.bounds }).edges.length / 6).toBe(8 * 2 + 8 * 2 + 4)
  })

  it('should show no edge where the path runs straight on', () => {
    const made = solid({
      ...beam,
      path: [
        [0, 0, 0],
        [100, 0, 0],
        [400, 0, 0],
      ],
    })
    expect(displayOf(made, { within: made.bounds }).edges.length / 6).toBe(4 * 2 + 4 * 2)
  })

  it('should say how much a leg lacks for its mitres', () => {
    // Two left turns of 90° on a leg of 50: the inner side, u = 30, loses 30 at each end.
    const made = solidOf(
      {
        ...beam,
        path: [
          [0, 0, 0],
          [500, 0, 0],
          [500, 50, 0],
          [0, 50, 0],
        ],
      },
      { meshes: new Map() },
    )
    expect(made).toMatchObject({ ok: false, faults: [{ got: { leg: 1, length: 50, missing: expect.closeTo(10, 5) } }] })
  })

  it('should hold every point of its path where the section holds the origin (seed 4122)', () => {
    fc.assert(
      fc.property(anySweep, anyNumber(0, 1), (shape, share) => {
        const made = bodies(solid(shape))
        for (let i = 0; i + 1 < shape.path.length; i++) {
          const p = add(scale(shape.path[i], 1 - share), scale(shape.path[i + 1], share))
          const inside = made.some(({ planes }) => {
            for (let f = 0; f < planes.length; f += 4)
              if (planes[f] * p[0] + planes[f + 1] * p[1] + planes[f + 2] * p[2] > planes[f + 3] + 1e-9) return false
            return true
          })
          expect(inside).toBe(true)
        }
      }),
      { seed: 4122, numRuns: 150 },
    )
  })

  it('should take its up from any vector square to the path', () => {
    const tilted = unit(cross([60, 560, 0], [0, 0, 1]))
    expect(
      solidOf(
        {
          ...beam,
          path: [
            [0, 0, 0],
            [60, 560, 0],
          ],
          up: scale(tilted, 7) as Triple,
        },
        { meshes: new Map() },
      ).ok,
    ).toBe(true)
  })
})
