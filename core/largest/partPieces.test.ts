import { expect, test } from 'vitest'
import { type Random, seeded } from '../../test/kit/random.ts'
import { bareCandidate } from '../../test/kit/tinyBay.ts'
import { mountFrame } from '../bay/mountFrame.ts'
import type { Mount } from '../bay/mountSchema.ts'
import type { Candidate, Tank } from '../bay/schema.ts'
import { portPoint, sides, tankFrame } from '../bay/tankPort.ts'
import { candidateParts } from '../bay/parts.ts'
import { clearance } from '../clearance/clearance.ts'
import { solidFrom } from '../shape/solid.ts'
import { add, distance, dot, placed, sub, type Vec3 } from '../shape/vec.ts'
import { depthIn } from './convexPoint.ts'
import { bodiesAt, candidateAt, type PartBody, portSides, stubAxis } from './partBodies.ts'
import { mountBodies, mountSides } from './mountPieces.ts'
import { PartPieces } from './partPieces.ts'
import type { Piece, Side } from './pieces.ts'
import { View } from './view.ts'

const faces = ['end', 'front', 'rear', 'below', 'above'] as const

function someTank(random: Random, out: 1 | -1): Tank {
  return {
    length: random.real(5, 80),
    front: random.real(-10, 20),
    rear: random.real(-10, 20),
    below: random.real(-10, 20),
    above: random.real(-10, 20),
    ...(random.chance(0.7) && { taper: { depth: random.real(0.3, 1), height: random.real(0.3, 1) } }),
    tolerance: random.real(0, 2),
    ports: faces.map((face) => ({
      id: face,
      face,
      u: random.real(-1, 1),
      v: random.real(-1, 1),
      outsideDiameter: random.real(5, 60),
      length: random.real(5, 60),
      // Along the axis, or leaning outward.
      ...(random.chance(0.3) && { direction: leaning(random, face, out) }),
    })),
  }
}

const leaning = (random: Random, face: (typeof faces)[number], out: 1 | -1): [number, number, number] => {
  const lean = random.point(0.7)
  const outward = { end: [0, out, 0], front: [-1, 0, 0], rear: [1, 0, 0], below: [0, 0, -1], above: [0, 0, 1] }[face]
  return [outward[0] + lean[0], outward[1] + lean[1], outward[2] + lean[2]]
}

const someCandidate = (random: Random): Candidate =>
  bareCandidate({
    tanks: { left: someTank(random, -1), ...(random.chance(0.7) && { right: someTank(random, 1) }) },
  })

const coreFaces = ['front', 'rear', 'left', 'right', 'below', 'above'] as const

/** Plates, blocks and pins on core and left tank, along the axes and turned. */
const someMounts = (random: Random): Mount[] =>
  [0, 1, 2, 3].map((number): Mount => {
    const size = () => random.real(3, 60)
    const turn = random.chance(0.5) ? { turn: random.pick([0, 90, -90, 180]) } : { turn: random.real(-180, 180) }
    const stands = random.pick(['flat', 'out'] as const)
    const place = { u: random.real(-1, 1), v: random.real(-1, 1) }
    return {
      id: `m${number}`,
      name: 'Mount',
      on: random.chance(0.4)
        ? { part: 'core', face: random.pick(coreFaces), ...place }
        : { part: 'tank-left', face: random.pick(faces), ...place },
      shape: random.pick<Mount['shape']>([
        { kind: 'plate', size: [size(), size()], thickness: 3, stands, standOff: random.real(0, 20), ...turn },
        { kind: 'block', size: [size(), size(), size()], ...turn },
        { kind: 'pin', diameter: size(), length: size() },
      ]),
      tolerance: random.real(0, 1),
    }
  })

const allBodies = (candidate: Candidate, x: Float64Array, view: View): PartBody[] => [
  ...bodiesAt(candidate, x, view),
  ...mountBodies(candidate, x, view),
]

function someFaces(random: Random): Float64Array {
  const x = new Float64Array(7)
  for (let k = 0; k < 3; k++) {
    x[k] = random.real(-300, 100)
    x[3 + k] = x[k] + random.real(25, 300)
  }
  return x
}

const sideAt = ({ onLow, onHigh, offset }: Side, x: Float64Array, k: number) =>
  onLow * x[k] + onHigh * x[3 + k] + offset

const cornersOf = ({ low, high }: Piece, x: Float64Array): Vec3[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map(
    (i) => [0, 1, 2].map((k) => sideAt((i >> k) & 1 ? high[k] : low[k], x, k)) as unknown as Vec3,
  )

test('60 candidates: bodies are those of the ledger; ports sit where the bay has them (seed 41)', () => {
  const random = seeded(41)
  for (let run = 0; run < 60; run++) {
    const candidate = { ...someCandidate(random), mounts: someMounts(seeded(1000 + run)) }
    const view = new View([5, 0, -3], [0, 0], random.real(-30, 30))
    const x = someFaces(random)
    const sized = candidateAt(candidate, x, view)
    const made = candidateParts({ candidates: [sized], keepOuts: [] } as never, sized)
    if (!made.ok) throw new Error(JSON.stringify(made.faults))
    expect(allBodies(candidate, x, view).map(({ part, body, tolerance }) => ({ part, body, tolerance }))).toEqual(
      made.value.parts.map(({ name, solid, tolerance }) => ({
        part: name,
        body: (solid.forms[0] as { body: unknown }).body,
        tolerance,
      })),
    )
    for (const which of sides)
      sized.tanks?.[which]?.ports?.forEach((port, number) => {
        const tank = sized.tanks?.[which]
        if (!tank) return
        const middle = [0, 1, 2].map((k) => (x[k] + x[3 + k]) / 2) as unknown as Vec3
        const here = add(middle, portPoint(port, tankFrame(sized.core, tank, which)))
        const follows = portSides(candidate, which, number).map((s, k) => sideAt(s, x, k)) as unknown as Vec3
        expect(distance(here, follows)).toBeLessThan(1e-10)
      })
    for (const { on } of candidate.mounts) {
      const middle = [0, 1, 2].map((k) => (x[k] + x[3 + k]) / 2) as unknown as Vec3
      const here = add(middle, mountFrame(sized, on)?.at ?? [Number.NaN, 0, 0])
      const follows = mountSides(candidate, on).map((s, k) => sideAt(s, x, k)) as unknown as Vec3
      expect(distance(here, follows)).toBeLessThan(1e-10)
    }
  }
})

function isBehind(candidate: Candidate, body: PartBody, onPart: Vec3, x: Float64Array): boolean {
  const mount = body.mount === undefined ? undefined : candidate.mounts?.[body.mount]
  const frame = mount && mountFrame(candidate, mount.on)
  if (mount && frame) {
    const place = mountSides(candidate, mount.on).map((s, k) => sideAt(s, x, k)) as unknown as Vec3
    return dot(sub(onPart, place), frame.out) < -1e-9
  }
  if (body.kind !== 'stub' || body.side === undefined || body.port === undefined) return false
  const port = candidate.tanks?.[body.side]?.ports?.[body.port]
  if (!port?.direction || port.face === 'end') return false
  const start = portSides(candidate, body.side, body.port).map((s, k) => sideAt(s, x, k)) as unknown as Vec3
  return dot(sub(onPart, start), stubAxis(candidate, body.side, body.port)) < -1e-9
}

test('60 candidates, contacts anywhere: every piece lies in its part, and the piece at a contact shows it (seed 42)', () => {
  const random = seeded(42)
  let coarse = 0
  let contacts = 0
  let behind = 0
  for (let run = 0; run < 60; run++) {
    const candidate = { ...someCandidate(random), mounts: someMounts(seeded(1000 + run)) }
    const view = new View([0, 0, 0], [0, 0], 0)
    const parts = new PartPieces(candidate)
    const x = someFaces(random)
    const ofMounts = seeded(2000 + run)
    for (const body of allBodies(candidate, x, view))
      for (let i = 0; i < 6; i++) {
        const specks = body.kind === 'mount' ? ofMounts : random
        // A point some millimetres off the part; asked for more than that.
        const away = add([(x[0] + x[3]) / 2, (x[1] + x[4]) / 2, (x[2] + x[5]) / 2], specks.point(500) as Vec3)
        const point = solidFrom([
          { form: 'convex', body: { kind: 'cylinder', from: away, to: add(away, [0, 0, 1e-6]), radius: 1e-6 } },
        ])
        const answer = clearance(solidFrom([{ form: 'convex', body: body.body }]), point)
        if (answer.overlap) continue
        const apart = answer.atMost + specks.size(0.01, 10)
        const before = parts.pieces.count
        const piece = parts.at(body, { ball: away, apart, onPart: answer.onPart }, x)
        if (piece === undefined) throw new Error('no piece')
        contacts++
        if (parts.pieces.count === before) coarse++
        const { low, high, part } = parts.pieces.list[piece]
        expect(part).toBe(body.part)
        const gap = Math.hypot(
          ...[0, 1, 2].map((k) => Math.max(away[k] - sideAt(high[k], x, k), sideAt(low[k], x, k) - away[k], 0)),
        )
        // What of a leaning stub or a mount lies behind its point on a side face is another at every size: no piece stands for it.
        if (isBehind(candidate, body, answer.onPart, x)) behind++
        else expect(gap).toBeLessThan(apart - 0.4 * (apart - answer.atMost))
      }
    // In other cores too: pieces follow.
    const other = someFaces(random)
    const bodies = new Map(allBodies(candidate, other, view).map(({ part, body }) => [part, body]))
    for (const piece of parts.pieces.list) {
      const body = bodies.get(piece.part)
      if (!body) throw new Error(piece.part)
      for (const corner of cornersOf(piece, other))
        expect(depthIn(body, placed({ turn: view.turn, at: view.pivot }, corner))).toBeGreaterThan(-1e-9)
    }
  }
  expect(contacts).toBeGreaterThan(1000)
  // Three ports in ten lean here, and specks come from all sides.
  expect(behind / contacts).toBeLessThan(0.2)
  expect(coarse / contacts).toBeGreaterThan(0.2)
})
