import type { Bay, Candidate, KeepOut } from '../../core/bay/schema.ts'

/** A room of 200 × 500 × 160 mm about the origin; each wall asks for 6 mm and is known to 2 mm. */
export const roomBay = (change: Partial<Candidate> = {}): Bay => ({
  format: 'gapwright-bay',
  version: 1,
  name: 'Room',
  frame: { origin: 'its middle' },
  units: 'mm',
  keepOuts: [
    wall('floor', 2, -80),
    wall('roof', 2, 80),
    wall('front', 0, -100),
    wall('rear', 0, 100),
    wall('left', 1, -250),
    wall('right', 1, 250),
  ],
  candidates: [
    {
      id: 'wide',
      name: 'Wide',
      at: [0, 0, 0],
      turn: [0, 0, 0],
      core: { depth: 90, width: 400, height: 130, tolerance: 1 },
      ...change,
    },
  ],
})

/** A half-space whose surface stands at `at` on an axis and looks at the origin. */
function wall(id: string, axis: number, at: number): KeepOut {
  const point: [number, number, number] = [0, 0, 0]
  const normal: [number, number, number] = [0, 0, 0]
  point[axis] = at
  normal[axis] = -Math.sign(at)
  return {
    id,
    name: `Wall ${id}`,
    role: 'body',
    clearance: 6,
    uncertainty: 2,
    shape: { kind: 'halfSpace', point, normal },
  }
}
