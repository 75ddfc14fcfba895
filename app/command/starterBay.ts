import { emptyBay, frameNote } from '../../core/bay/emptyBay.ts'
import type { Bay } from '../../core/bay/schema.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'

/**
 * A small bay to begin from: a beam, a lamp on either side, a radiator, the ground, and a candidate that clears them.
 * Everything in it is made up and meant to be replaced.
 * @param units how its author measures; in inches the lengths are round in inches (the file holds mm all the same)
 */
export function starterBay(name: string, units: PeopleUnits): Bay {
  const length = (mm: number, inches: number) => (units === 'mm' ? mm : (inches * 254) / 10)
  const beamSize: Triple = [length(60, 2.5), length(1100, 44), length(110, 4.5)]
  const origin = 'say here where the origin is on the car, for example: centre of the lower rail’s front face'
  return {
    ...emptyBay(name, origin, frameNote, units),
    keepOuts: [
      {
        id: 'beam',
        name: 'Crash beam',
        role: 'safety',
        clearance: length(10, 0.375),
        uncertainty: length(2, 0.0625),
        shape: { kind: 'box', at: [length(-150, -6), 0, length(300, 12)], size: beamSize },
      },
      {
        id: 'lamp',
        name: 'Head lamp',
        role: 'lamp',
        clearance: length(8, 0.3125),
        uncertainty: length(3, 0.125),
        mirror: true,
        shape: { kind: 'hull', points: lampPoints(length) },
      },
      {
        id: 'radiator',
        name: 'Radiator pack',
        role: 'cooling',
        clearance: length(12, 0.5),
        uncertainty: length(2, 0.0625),
        shape: {
          kind: 'box',
          at: [length(110, 4.5), 0, length(260, 10)],
          size: [length(50, 2), length(700, 28), length(480, 19)],
        },
      },
      {
        id: 'ground',
        name: 'Ground clearance',
        role: 'body',
        clearance: length(20, 0.75),
        uncertainty: length(5, 0.1875),
        shape: { kind: 'halfSpace', point: [0, 0, length(-60, -2.5)], normal: [0, 0, 1] },
      },
    ],
    candidates: [
      {
        id: 'first',
        name: 'First try',
        at: [length(-20, -0.75), 0, length(190, 7.5)],
        turn: [0, 0, 0],
        core: { depth: length(65, 2.5), width: length(500, 20), height: length(260, 10), tolerance: length(1, 0.0625) },
        tanks: { left: tank(length), right: tank(length) },
        limits: {
          depth: { stock: [length(50, 2), length(65, 2.5), length(76, 3)] },
          width: { min: length(300, 12), max: length(640, 25) },
          height: { min: length(150, 6), max: length(400, 16) },
          centre: {
            min: [length(-80, -3), length(-50, -2), length(100, 4)],
            max: [length(20, 0.75), length(50, 2), length(300, 12)],
          },
        },
      },
    ],
  }
}

type Triple = [number, number, number]
type Length = (mm: number, inches: number) => number

/** The right lamp: a block that narrows to the rear. */
function lampPoints(length: Length): Triple[] {
  const [front, rear] = [length(-120, -5), length(60, 2.5)]
  const [inner, outer] = [length(430, 17), length(640, 25)]
  const [innerRear, outerRear] = [length(480, 19), length(600, 24)]
  const [low, high] = [length(400, 16), length(520, 20.5)]
  return [
    ...[
      [front, inner, low],
      [front, outer, low],
      [front, inner, high],
      [front, outer, high],
    ],
    ...[
      [rear, innerRear, low],
      [rear, outerRear, low],
      [rear, innerRear, high],
      [rear, outerRear, high],
    ],
  ] as Triple[]
}

const tank = (length: Length) => ({
  length: length(60, 2.5),
  front: 0,
  rear: 0,
  below: 0,
  above: 0,
  taper: { depth: 0.8, height: 0.6 },
  tolerance: length(1.5, 0.0625),
})
