import type { Bay, Pipe } from '../../core/bay/schema.ts'
import { sampleBay } from './sampleBay.ts'

/** The sample bay with stock, and with a pipe of three corners between turbo and tank, the last one in line with the tank's port; the pipe through the air beside it. */
export function pipedBay(more: Partial<Pipe> = {}): Bay {
  const bay = sampleBay()
  const [candidate] = bay.candidates
  const hot: Pipe = {
    id: 'hot',
    name: 'Hot side',
    from: 'turbo',
    to: 'tank-left:in',
    outsideDiameter: 57,
    wall: 1.5,
    bendRadius: 85,
    path: [
      [90, -900, 40],
      [-20, -900, 190],
      [-20, -700, 190],
    ],
    ...more,
  }
  const straight = { wall: 5, insertion: 30, largestAngle: 4, largestOffset: 3, largestGap: 20 }
  return {
    ...bay,
    candidates: [{ ...candidate, pipes: [hot, ...(candidate.pipes ?? [])] }],
    stock: {
      couplers: [
        { form: 'straight', id: 'hose', name: 'Hose', insideDiameters: [57, 57], length: 90, ...straight },
        {
          form: 'elbow',
          id: 'bend',
          name: 'Elbow',
          insideDiameters: [57, 57],
          angle: 90,
          radius: 80,
          legs: [60, 60],
          ...straight,
        },
      ],
      clamps: [{ id: 'clamp', name: 'Clamp', least: 60, most: 80, band: 12, height: 14 }],
      elbows: [
        {
          id: 'cast',
          name: 'Cast elbow',
          outsideDiameter: 57,
          wall: 1.5,
          material: 'aluminium',
          angle: 90,
          radius: 85,
          legs: [20, 20],
        },
      ],
    },
  }
}
