import type { Bay, KeepOut, Pipe, Port } from '../../core/bay/schema.ts'
import type { Clamp, Coupler } from '../../core/bay/workshopSchema.ts'
import { bareCandidate, tinyBay } from './tinyBay.ts'

/** Bore 20, wall 3, so 26 across; 44 long. */
export const shortHose: Coupler = {
  form: 'straight',
  id: 'short',
  name: 'Short hose',
  insideDiameters: [20, 20],
  wall: 3,
  insertion: 15,
  length: 44,
  largestAngle: 4,
  largestOffset: 2,
  largestGap: 6,
}
const { length: _, form: __, ...bore } = shortHose as Extract<Coupler, { form: 'straight' }>
/** The same, 100 long: with tubes 4 apart it goes over each by 48. */
export const longHose: Coupler = { ...shortHose, id: 'long', length: 100 } as Coupler
/** 34 across over 20 mm in the middle. */
export const humpHose: Coupler = { ...bore, form: 'hump', id: 'hump', length: 64, hump: { diameter: 34, length: 20 } }
/** Its arc begins 10 beyond the port and ends 30 further on and aside; the pipe begins 10 beyond that. */
export const cornerHose: Coupler = { ...bore, form: 'elbow', id: 'corner', angle: 90, radius: 30, legs: [25, 25] }
/** Band 10, so its middle lies 11 from a hose's end. */
export const band: Clamp = { id: 'band', name: 'Band', least: 22, most: 32, band: 10, height: 8 }

/** Straight along Y between a stub that ends at (0, 200, 0) and a port at (0, 400, 0); 20 across. */
export const straightPipe = (change: Partial<Pipe> = {}): Pipe => ({
  id: 'hot',
  name: 'Hot',
  from: 'turbo',
  to: 'tank-right:p',
  outsideDiameter: 20,
  wall: 1.5,
  bendRadius: 30,
  path: [],
  clearance: 0,
  ...change,
})
export const turboPort = (change: Partial<Port> = {}): Port => ({
  id: 'turbo',
  name: 'Turbo',
  at: [0, 400, 0],
  direction: [0, -1, 0],
  outsideDiameter: 20,
  ...change,
})

/** A core with a tank to Y 170 on its right and a stub of 30 on it; the pipes given; hoses and a clamp in stock. */
export const jointedBay = (pipes: Pipe[], keepOuts: KeepOut[] = [], ports: Port[] = [turboPort()]): Bay => ({
  ...tinyBay(
    keepOuts,
    bareCandidate({
      tanks: {
        right: {
          length: 70,
          front: 0,
          rear: 0,
          below: 0,
          above: 0,
          ports: [{ id: 'p', face: 'end', u: 0, v: 0, outsideDiameter: 20, length: 30 }],
        },
      },
      pipes,
    }),
    ports,
  ),
  stock: { couplers: [shortHose, longHose, humpHose, cornerHose], clamps: [band] },
})
