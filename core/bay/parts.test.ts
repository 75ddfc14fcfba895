import { describe, expect, test } from 'vitest'
import { bareCandidate, keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import { ledger } from '../verdict/ledger.ts'
import { placed, turnMatrix, type Vec3 } from '../shape/vec.ts'
import { candidateParts } from './parts.ts'
import { readBay } from './read.ts'
import type { TankPort } from './schema.ts'
import { writeBay } from './write.ts'

const tank = { length: 60, front: 0, rear: 0, below: 0, above: 0, taper: { depth: 0.5, height: 1 } }
const port: TankPort = { id: 'p', face: 'rear', u: 0, v: 0, outsideDiameter: 57, length: 40 }
const withPort = (more: Partial<TankPort> = {}, turn: [number, number, number] = [0, 0, 0]) =>
  bareCandidate({
    turn,
    core: { depth: 100, width: 200, height: 200 },
    tanks: { right: { ...tank, ports: [{ ...port, ...more }] } },
  })

function gapTo(at: Vec3, candidate: ReturnType<typeof withPort>): number {
  const speck = keepOut('speck', { kind: 'box', at: [...at], size: [2e-6, 2e-6, 2e-6] })
  const answer = ledger(tinyBay([speck], candidate), undefined, new Map())
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return Math.min(...answer.value.pairs.map((pair) => pair.gap))
}

describe('a stub on a tapered or leaning face leaves no wedge', () => {
  test('the rear face falls from X 50 to X 25 over 60 mm: right beside the stub, behind its point, there is metal', () => {
    // The face at Y 100 + 30 + 28.4 stands at X 37.5 − 28.4 · 25/60; just off it, inside the stub's bore, was nothing before.
    const y = 100 + 30 + 28.4
    const face = 37.5 - (28.4 * 25) / 60
    expect(gapTo([face + 1, y, 0], withPort())).toBeLessThan(1e-5)
    expect(gapTo([face + 11, y, 0], withPort())).toBeLessThan(1e-5)
    // Beyond the stub's radius the face alone is left.
    expect(gapTo([face + 5, y + 6, 0], withPort())).toBeGreaterThan(1)
  })

  test('turned and leaning, every point of the wedge is in one of the two', () => {
    for (const [direction, turn] of [
      [undefined, [0, 0, 0]],
      [undefined, [5, -12, 20]],
      [
        [1, 0.4, 0.3],
        [0, 0, 0],
      ],
      [
        [1, -0.2, -0.5],
        [8, 3, -30],
      ],
    ] as [[number, number, number] | undefined, [number, number, number]][]) {
      const candidate = withPort({ direction, outsideDiameter: 20 }, turn)
      const d = direction ?? [1, 0, 0]
      const size = Math.hypot(...d)
      const axis = d.map((x) => x / size)
      for (let i = 0; i < 24; i++) {
        const a = (i * Math.PI) / 12
        // A point on the stub's outline, a little inside it, moved along the axis until just off the face.
        const u = [axis[1], -axis[0], 0].map((x) => x / Math.hypot(axis[0], axis[1]))
        const v = [0, 1, 2].map((k) => axis[(k + 1) % 3] * u[(k + 2) % 3] - axis[(k + 2) % 3] * u[(k + 1) % 3])
        const rim = [0, 1, 2].map((k) => 9.9 * (Math.cos(a) * u[k] + Math.sin(a) * v[k]))
        const start = [37.5 + rim[0], 130 + rim[1], rim[2]]
        // Face: X = 37.5 − (Y − 130) · 25/60.
        const off = start[0] - 37.5 + ((start[1] - 130) * 25) / 60
        const t = (0.05 - off) / (axis[0] + (axis[1] * 25) / 60)
        const point = start.map((x, k) => x + t * axis[k]) as unknown as Vec3
        expect(gapTo(placed({ turn: turnMatrix(turn), at: [0, 0, 0] }, point), candidate)).toBeLessThan(1e-5)
      }
    }
  })

  test('square to its face it begins at its point, to the last digit', () => {
    const made = candidateParts(tinyBay([], withPort()), withPort({ face: 'end', length: 40 }))
    if (!made.ok) throw new Error(JSON.stringify(made.faults))
    const stub = made.value.parts.find(({ kind }) => kind === 'stub')
    expect(stub?.solid.forms[0]).toMatchObject({ body: { from: [0, 160, 0], to: [0, 200, 0] } })
  })

  test('one that leaves the tapered face by less than 6° is refused, though it leaves the face’s axis', () => {
    const faults = (direction: [number, number, number]) => {
      const read = readBay(writeBay(tinyBay([], withPort({ direction }))))
      return read.ok ? [] : read.faults.map(({ code }) => code)
    }
    expect(faults([0.3, -1, 0])).toContain('points-inward')
    expect(faults([0, 1, 0])).toEqual([])
    expect(faults([0, -1, 0])).toContain('points-inward')
    expect(faults([1, -0.5, 0])).toEqual([])
  })
})
