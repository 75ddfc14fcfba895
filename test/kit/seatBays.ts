import type { Bay, Candidate, KeepOut } from '../../core/bay/schema.ts'
import type { Meshes } from '../../core/bay/part.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { type SeatSubject, seatSubject } from '../../core/seat/subject.ts'
import { bareCandidate, keepOut, tinyBay } from './tinyBay.ts'

type Range = readonly [number, number]

/** A box from its sides; `wanted` on the way, known exactly. */
export function block(id: string, x: Range, y: Range, z: Range, wanted = 0): KeepOut {
  const middle = (r: Range) => (r[0] + r[1]) / 2
  const shape = {
    kind: 'box' as const,
    at: [middle(x), middle(y), middle(z)] as [number, number, number],
    size: [x[1] - x[0], y[1] - y[0], z[1] - z[0]] as [number, number, number],
  }
  return keepOut(id, shape, { clearance: wanted })
}

export function wall(
  id: string,
  point: [number, number, number],
  normal: [number, number, number],
  wanted = 0,
): KeepOut {
  return keepOut(id, { kind: 'halfSpace', point, normal }, { clearance: wanted })
}

const noOverhang = { front: 0, rear: 0, below: 0, above: 0, taper: { depth: 0.8, height: 0.6 } }

/** A core with a tapered tank of 70 mm on each side. */
export const cooler = (depth: number, width: number, height: number, change: Partial<Candidate> = {}): Candidate =>
  bareCandidate({
    core: { depth, width, height },
    tanks: { left: { length: 70, ...noOverhang }, right: { length: 70, ...noOverhang } },
    ...change,
  })

export const bar = (depth: number, width: number, height: number, change: Partial<Candidate> = {}): Candidate =>
  bareCandidate({ core: { depth, width, height }, ...change })

/** The subject of a bay that must be right; `need` large, so that each keep-out's own clearance is wanted. */
export function subjectOf(bay: Bay, meshes: Meshes = new Map(), need = 1e6): SeatSubject {
  const made = seatSubject(bay, undefined, meshes, { need })
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}

/** A bumpy sheet square to X, seen from behind, of 2·n·m triangles: the inner side of a bumper's cover. */
export function coverMesh(x: number, y: Range, z: Range, bump: number, n: number, m: number): Mesh {
  const positions = new Float64Array(3 * (n + 1) * (m + 1))
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= m; j++) {
      const [u, v] = [i / n, j / m]
      const at = 3 * (i * (m + 1) + j)
      positions[at] = x + bump * (Math.sin(40 * u + 3 * v) * Math.cos(31 * v) - 1)
      positions[at + 1] = y[0] + u * (y[1] - y[0])
      positions[at + 2] = z[0] + v * (z[1] - z[0])
    }
  const triangles = new Uint32Array(6 * n * m)
  for (let i = 0, t = 0; i < n; i++)
    for (let j = 0; j < m; j++) {
      const a = i * (m + 1) + j
      const b = a + m + 1
      triangles.set([a, b, a + 1, a + 1, b, b + 1], t)
      t += 6
    }
  return { positions, triangles, closed: false }
}

const file = 'cover.stl'
export const coverKeepOut = (wanted = 0): KeepOut =>
  keepOut('cover', { kind: 'mesh', file, unit: 'mm' }, { clearance: wanted })
export const coverMeshes = (mesh: Mesh): Meshes => new Map([[file, mesh]])

/** Straight up or down past a beam in front: nothing in the way. */
export const dropBay = (): { bay: Bay; meshes: Meshes } => ({
  bay: tinyBay(
    [
      block('beam', [-120, -48], [-600, 600], [-60, 60], 5),
      block('radiator', [44, 90], [-420, 420], [-200, 260], 5),
      block('lamp-left', [-200, 20], [-600, -345], [60, 200], 8),
      block('lamp-right', [-200, 20], [345, 600], [60, 200], 8),
      block('crossmember', [-60, 100], [-700, 700], [-190, -128], 5),
      coverKeepOut(5),
      block('rail-left', [-200, 200], [-460, -340], [-150, -60], 5),
      block('rail-right', [-200, 200], [340, 460], [-150, -60], 5),
    ],
    cooler(76, 500, 240),
  ),
  meshes: coverMeshes(coverMesh(-135, [-700, 700], [-350, 350], 6, 230, 230)),
})

/** Closed above, a crossmember below: the part has to tilt past the beam. `back` moves the crossmember rearward. */
export const tiltBay = (back = 0): { bay: Bay; meshes: Meshes } => ({
  bay: tinyBay(
    [
      block('beam', [-130, -62], [-600, 600], [-60, 60], 3),
      block('radiator', [60, 110], [-420, 420], [-420, 300], 3),
      block('slam-panel', [-260, 60], [-600, 600], [135, 160], 3),
      block('crossmember', [-16 + back, 110], [-700, 700], [-290, -230], 3),
      block('lamp-left', [-260, 20], [-600, -360], [-20, 135], 8),
      block('lamp-right', [-260, 20], [360, 600], [-20, 135], 8),
      coverKeepOut(5),
    ],
    cooler(76, 500, 240),
  ),
  meshes: coverMeshes(coverMesh(-275, [-700, 700], [-130, 350], 6, 230, 230)),
})

/** Out forward between two lamps that stand nearer together than the part is wide. */
export function keyBay(room = 140): Bay {
  const lamp = (id: string, s: number): KeepOut =>
    keepOut(
      id,
      {
        kind: 'hull',
        points: [
          [-200, 250],
          [-48, 296],
          [-200, 700],
          [-48, 700],
        ].flatMap(([x, y]): [number, number, number][] => [
          [x, s * y, -150],
          [x, s * y, 150],
        ]),
      },
      { clearance: 2 },
    )
  return tinyBay(
    [
      lamp('lamp-left', -1),
      lamp('lamp-right', 1),
      block('radiator', [58, 110], [-420, 420], [-300, 300], 3),
      block('slam-panel', [-300, 110], [-900, 900], [115, 140], 2),
      block('tray', [-300, 110], [-900, 900], [-140, -115], 2),
      block('wing-left', [-300, 110], [-520 - room, -320 - room], [-150, 150], 2),
      block('wing-right', [-300, 110], [320 + room, 520 + room], [-150, 150], 2),
    ],
    cooler(76, 500, 200),
  )
}

/**
 * A bar of p × q (Y, Z) and 700 long behind a tunnel of a × b, all else closed. Tunnel and bar are longer than p, so that no
 * other section of the bar is of use: the question is that of the rectangles alone.
 */
export function letterBay(p: number, q: number, a: number, b: number): Bay {
  const tunnel = [-1080, -380] as const
  const all = [-1080, 400] as const
  return tinyBay(
    [
      block('side-left', tunnel, [-900, -a / 2], [-900, 900]),
      block('side-right', tunnel, [a / 2, 900], [-900, 900]),
      block('below', tunnel, [-900, 900], [-900, -b / 2]),
      block('above', tunnel, [-900, 900], [b / 2, 900]),
      block('back', [380, 400], [-900, 900], [-900, 900]),
      block('left', all, [-900, -450], [-900, 900]),
      block('right', all, [450, 900], [-900, 900]),
      block('floor', all, [-900, 900], [-900, -420]),
      block('ceiling', all, [-900, 900], [420, 900]),
    ],
    bar(700, p, q),
  )
}

/**
 * A bar of `length` × w that stands in a corridor of width a and has to go round a right-angled corner into one of width b;
 * floor and ceiling leave it no room to tilt.
 */
export function cornerBay(length: number, w: number, a: number, b: number): Bay {
  const far = 3 * length
  return tinyBay(
    [
      block('outer-side', [-a - 400, -a], [-far, b + 400], [-400, 400]),
      block('outer-end', [-a - 400, far], [b, b + 400], [-400, 400]),
      block('inner', [0, far], [-far, 0], [-400, 400]),
      block('behind', [-a, 0], [-far, -length - 0.4 * a], [-400, 400]),
      wall('floor', [0, 0, -51], [0, 0, 1]),
      wall('ceiling', [0, 0, 51], [0, 0, -1]),
    ],
    bar(w, length, 100, { at: [-a / 2, -length / 2 - 0.2 * a, 0] }),
  )
}

/**
 * A section of `tall` × `deep` (Z, X) that stands under a ceiling and has to lie down before it can go out through a slot
 * above the floor that is lower than it is tall; walls at both ends leave it no room to turn in another view.
 */
export function layingBay(tall: number, deep: number, ceiling: number): Bay {
  const low = -ceiling / 2
  return tinyBay(
    [
      wall('floor', [0, 0, low], [0, 0, 1]),
      wall('ceiling', [0, 0, low + ceiling], [0, 0, -1]),
      wall('left', [0, -251, 0], [0, 1, 0]),
      wall('right', [0, 251, 0], [0, -1, 0]),
      block('back', [500, 520], [-251, 251], [-400, 400]),
      block('front', [-900, -500], [-251, 251], [low + 1.4 * deep, 400]),
    ],
    bar(deep, 500, tall),
  )
}

/**
 * Longest bar of width w that goes round the corner of corridors a and b: the least of a/sin θ + b/cos θ − w/(sin θ cos θ),
 * derived (check A8.5); with w = 0 the ladder of check A8.4, (a^⅔ + b^⅔)^{3/2}.
 */
export function longestBar(a: number, b: number, w: number): number {
  const at = (t: number) => a / Math.sin(t) + b / Math.cos(t) - w / (Math.sin(t) * Math.cos(t))
  let [low, high] = [0.01, Math.PI / 2 - 0.01]
  for (let i = 0; i < 200; i++) {
    const [s, t] = [low + (high - low) / 3, high - (high - low) / 3]
    if (at(s) < at(t)) high = t
    else low = s
  }
  return at((low + high) / 2)
}

/** Least b of a window a × b through which a p × q section (p > a ≥ …) goes. Wetzel, Rectangles in Rectangles (2000); check A8.1. */
export const leastWindow = (p: number, q: number, a: number): number =>
  (2 * p * q * a + (p * p - q * q) * Math.sqrt(p * p + q * q - a * a)) / (p * p + q * q)

/** The tilting bay closed all round. */
export function sealedBay(): { bay: Bay; meshes: Meshes } {
  const { bay, meshes } = tiltBay()
  return {
    bay: {
      ...bay,
      keepOuts: [
        ...bay.keepOuts,
        block('tray', [-400, 200], [-900, 900], [-330, -292], 3),
        block('front', [-330, -300], [-900, 900], [-330, 160], 3),
        block('wall-left', [-400, 200], [-900, -600], [-330, 160], 3),
        block('wall-right', [-400, 200], [600, 900], [-330, 160], 3),
        block('rear', [110, 130], [-900, 900], [-330, 160], 3),
        block('top', [-400, 130], [-900, 900], [160, 180], 3),
      ],
    },
    meshes,
  }
}

/** Of the core behind the window; the room behind it takes 80 × 470 × 380. */
export const windowLimits: Candidate['limits'] = {
  depth: { stock: [60, 80] },
  width: { min: 100, max: 470 },
  height: { min: 60, max: 380 },
  centre: { min: [-195, -250, -200], max: [-105, 250, 200] },
}

/** A shallow room behind a wall with a window of `across` × `high`: what is in the window's way comes in straight. */
export const windowBay = (across: number, high: number, limits: Candidate['limits'] = windowLimits): Bay =>
  tinyBay(
    [
      block('above', [-300, -200], [-900, 900], [high / 2, 900], 2),
      block('below', [-300, -200], [-900, 900], [-900, -high / 2], 2),
      block('left', [-300, -200], [-900, -across / 2], [-900, 900], 2),
      block('right', [-300, -200], [across / 2, 900], [-900, 900], 2),
      wall('back', [-100, 0, 0], [-1, 0, 0], 2),
      wall('side-left', [0, -250, 0], [0, 1, 0], 2),
      wall('side-right', [0, 250, 0], [0, -1, 0], 2),
      wall('floor', [0, 0, -200], [0, 0, 1], 2),
      wall('ceiling', [0, 0, 200], [0, 0, -1], 2),
    ],
    bar(60, 150, 80, { at: [-150, 0, 0], limits }),
  )
