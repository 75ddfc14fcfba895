import type { Bay } from '../../core/bay/schema.ts'

/** A small bay with one of everything, all of it right: tests change one thing at a time in a copy. */
export const sampleBay = (): Bay => ({
  format: 'gapwright-bay',
  version: 1,
  name: 'Sample bay',
  frame: { origin: 'centre of the lower rail', note: 'X rearward, Y right, Z up' },
  units: 'mm',
  keepOuts: [
    {
      id: 'beam',
      name: 'Beam',
      role: 'safety',
      clearance: 10,
      uncertainty: 2,
      shape: { kind: 'box', at: [-200, 0, 250], size: [60, 900, 120] },
    },
    {
      id: 'lamp',
      name: 'Lamp',
      role: 'lamp',
      mirror: true,
      shape: {
        kind: 'hull',
        points: [
          [-200, 500, 300],
          [-100, 500, 300],
          [-150, 600, 300],
          [-150, 550, 400],
        ],
      },
    },
    { id: 'floor', name: 'Floor', role: 'body', shape: { kind: 'halfSpace', point: [0, 0, -60], normal: [0, 0, 1] } },
    {
      id: 'radiator',
      name: 'Radiator',
      role: 'cooling',
      shape: { kind: 'box', at: [120, 0, 200], size: [60, 700, 500] },
    },
    {
      id: 'bottle',
      name: 'Bottle',
      role: 'service',
      fitting: 'comes-off',
      shape: { kind: 'cylinder', from: [0, -600, 50], to: [0, -600, 250], radius: 60 },
    },
    {
      id: 'rail',
      name: 'Rail',
      role: 'body',
      shape: {
        kind: 'sweep',
        section: [
          [-20, -20],
          [20, -20],
          [20, 20],
          [-20, 20],
        ],
        path: [
          [-200, 700, 0],
          [200, 700, 0],
        ],
        up: [0, 0, 1],
      },
    },
    {
      id: 'hose',
      name: 'Hose',
      role: 'hot',
      shape: {
        kind: 'tube',
        path: [
          [300, -500, 0],
          [300, 0, 0],
          [300, 0, 400],
        ],
        radius: 8,
        bendRadius: 40,
      },
    },
  ],
  openings: [
    {
      id: 'lower',
      name: 'Lower grille',
      outline: [
        [-300, 0],
        [300, 0],
        [300, 150],
        [-300, 150],
      ],
      x: -260,
    },
  ],
  ports: [
    {
      id: 'turbo',
      name: 'Turbo outlet',
      at: [90, -500, 40],
      direction: [0, 1, 0],
      outsideDiameter: 57,
      sitsOn: 'radiator',
    },
    { id: 'throttle', name: 'Throttle', at: [90, 500, 40], direction: [0, -1, 0], outsideDiameter: 57 },
  ],
  candidates: [
    {
      id: 'wide',
      name: 'Wide core',
      at: [-20, 0, 190],
      turn: [0, 0, 0],
      core: { depth: 90, width: 540, height: 260, tolerance: 1 },
      tanks: {
        left: {
          length: 70,
          front: 0,
          rear: 0,
          below: 0,
          above: 0,
          taper: { depth: 0.8, height: 0.6 },
          ports: [{ id: 'in', face: 'end', u: 0, v: 0, outsideDiameter: 57, length: 30 }],
        },
        right: { length: 70, front: 2, rear: -2, below: 0, above: 5 },
      },
      pipes: [
        {
          id: 'cold',
          name: 'Cold side',
          from: 'turbo',
          to: 'throttle',
          outsideDiameter: 57,
          wall: 1.5,
          bendRadius: 85,
          path: [],
          bender: 'shop',
        },
      ],
      limits: {
        depth: { stock: [65, 76, 90, 102] },
        width: { min: 300, max: 640 },
        height: { min: 150, max: 400, pitch: 10.5, offset: 8 },
        tilt: { min: 0, max: 0 },
        centre: { min: [-100, 0, 100], max: [0, 0, 300] },
      },
    },
  ],
  benders: [
    {
      id: 'shop',
      name: 'Shop bender',
      tools: [{ outsideDiameter: 57, radii: [85], grip: 60, leastStraight: 20, leastEnd: 30, largestAngle: 180 }],
    },
  ],
})
