import { describe, expect, test } from 'vitest'
import { mountedBay, plate, rail, stud } from '../../test/kit/mountedBay.ts'
import { seeded } from '../../test/kit/random.ts'
import { keepOut } from '../../test/kit/tinyBay.ts'
import type { Solid } from '../shape/form.ts'
import { add, along, dot, placed, scale, turnMatrix, type Vec3 } from '../shape/vec.ts'
import { ledger } from '../verdict/ledger.ts'
import { mountFrame } from './mountFrame.ts'
import type { Mount } from './mountSchema.ts'
import { candidateParts } from './parts.ts'
import type { Bay, Candidate } from './schema.ts'
import { portPoint, tankFrame } from './tankPort.ts'

function mountIn(bay: Bay): { solid: Solid; tolerance: number } {
  const made = candidateParts(bay, bay.candidates[0])
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  const found = made.value.parts.find(({ kind }) => kind === 'mount')
  if (!found) throw new Error('no mount')
  return found
}

const boundsOf = (bay: Bay) => {
  const { min, max } = mountIn(bay).solid.bounds
  return [min, max].map((corner) => corner.map((x) => Math.round(x * 1e9) / 1e9))
}

const tank = { length: 60, front: 0, rear: 0, below: 0, above: 0, taper: { depth: 0.5, height: 0.8 }, tolerance: 1.5 }

describe('a mount as a part', () => {
  test('a flat plate reaches from the face to its far side', () => {
    // On below u runs along Y and v along X: the first side, 60, lies along Y.
    expect(boundsOf(mountedBay())).toEqual([
      [-20, -30, -60],
      [20, 30, -40],
    ])
  })

  test('turned by 90° its sides change places; on another place it goes along', () => {
    const shape = { ...plate().shape, turn: 90 } as Mount['shape']
    expect(boundsOf(mountedBay([plate({ shape, on: { part: 'core', face: 'below', u: 0.5, v: -1 } })]))).toEqual([
      [-80, 30, -60],
      [-20, 70, -40],
    ])
  })

  test('a plate that stands out is thin along the face', () => {
    const shape: Mount['shape'] = { kind: 'plate', size: [60, 40], thickness: 3, stands: 'out' }
    expect(boundsOf(mountedBay([plate({ shape, on: { part: 'core', face: 'rear', u: 0, v: 0 } })]))).toEqual([
      [50, -30, -1.5],
      [90, 30, 1.5],
    ])
  })

  test('a pin is a cylinder outward, a block a box', () => {
    const pin: Mount['shape'] = { kind: 'pin', diameter: 12, length: 25 }
    expect(boundsOf(mountedBay([plate({ shape: pin, on: { part: 'core', face: 'left', u: 0, v: 0 } })]))).toEqual([
      [-6, -125, -6],
      [6, -100, 6],
    ])
    const block: Mount['shape'] = { kind: 'block', size: [10, 20, 30] }
    expect(boundsOf(mountedBay([plate({ shape: block, on: { part: 'core', face: 'front', u: 0, v: 0 } })]))).toEqual([
      [-80, -5, -10],
      [-50, 5, 10],
    ])
  })

  test('its tolerance is its own and that of the part it sits on', () => {
    const on = { part: 'tank-right', face: 'end', u: 0, v: 0 } as const
    expect(mountIn(mountedBay([plate({ tolerance: 0.5, on })], [stud()], { tanks: { right: tank } })).tolerance).toBe(2)
  })

  test('it sits where a tank port of the same face, u and v would', () => {
    const candidate: Pick<Candidate, 'core' | 'tanks'> = {
      core: { depth: 100, width: 200, height: 80 },
      tanks: { left: tank },
    }
    for (const face of ['end', 'front', 'rear', 'below', 'above'] as const) {
      const on = { part: 'tank-left', face, u: 0.3, v: -0.7 } as const
      expect(mountFrame(candidate, on)?.at).toEqual(portPoint(on, tankFrame(candidate.core, tank, 'left')))
    }
    expect(mountFrame(candidate, { part: 'tank-right', face: 'end', u: 0, v: 0 })).toBeNull()
  })

  test('it turns with the candidate', () => {
    const random = seeded(5)
    for (let round = 0; round < 40; round++) {
      const turn: [number, number, number] = [random.real(-60, 60), random.real(-60, 60), random.real(-60, 60)]
      const at: [number, number, number] = [...random.point(300)] as [number, number, number]
      const shape = { ...plate().shape, turn: random.real(-180, 180) } as Mount['shape']
      const mount = plate({ shape, on: { part: 'tank-right', face: 'rear', u: 0.2, v: 0.4 } })
      const still = mountIn(mountedBay([mount], [stud()], { tanks: { right: tank } })).solid
      const gone = mountIn(mountedBay([mount], [stud()], { tanks: { right: tank }, turn, at })).solid
      const pose = { turn: turnMatrix(turn), at }
      for (let i = 0; i < 6; i++) {
        const way = random.unit()
        const expected = highest(still, way, pose)
        expect(highest(gone, way)).toBeCloseTo(expected, 9)
      }
    }
  })

  test('on a tapered face no wedge is left open under it: every point between face and plate is in it', () => {
    const random = seeded(11)
    for (const kind of ['plate', 'pin'] as const)
      for (let round = 0; round < 60; round++) {
        const shape: Mount['shape'] =
          kind === 'pin'
            ? { kind, diameter: 20, length: 10 }
            : { kind, size: [30, 20], thickness: 3, turn: random.real(0, 360) }
        const face = random.pick(['front', 'rear', 'below', 'above', 'end'] as const)
        const mount = plate({ shape, on: { part: 'tank-right', face, u: 0, v: 0 } })
        const bay = mountedBay([mount], [stud()], { tanks: { right: tank } })
        const frame = mountFrame(bay.candidates[0], mount.on)
        if (!frame) throw new Error('no frame')
        // A point of the footprint, brought down onto the actual face along the outward axis.
        const [a, b] = kind === 'pin' ? inDisc(random, 10) : [random.real(-15, 15), random.real(-10, 10)]
        const angle = ((shape.kind === 'pin' ? 0 : (shape.turn ?? 0)) * Math.PI) / 180
        const beside = add(
          scale(frame.u, a * Math.cos(angle) - b * Math.sin(angle)),
          scale(frame.v, a * Math.sin(angle) + b * Math.cos(angle)),
        )
        // On the side where the face falls away; on the other it is the tank that stands under the plate.
        const across = scale(beside, dot(frame.normal, beside) < 0 ? -1 : 1)
        const down = dot(frame.normal, across) / dot(frame.normal, frame.out)
        const onFace = along(add(frame.at, across), frame.out, -down + 1e-6)
        const speck = keepOut('speck', { kind: 'box', at: [...onFace], size: [2e-6, 2e-6, 2e-6] })
        const answer = ledger({ ...bay, keepOuts: [speck], fixings: [] }, undefined, new Map())
        if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
        expect(answer.value.pairs.find(({ part }) => part === 'mount-foot')?.gap).toBeLessThan(1e-5)
      }
  })
})

const inDisc = (random: ReturnType<typeof seeded>, radius: number): [number, number] => {
  const [r, t] = [radius * Math.sqrt(random.real(0, 1)), random.real(0, 2 * Math.PI)]
  return [r * Math.cos(t), r * Math.sin(t)]
}

/** Greatest reach of a one-form convex solid along a direction, with the solid standing in a pose. */
function highest(solid: Solid, way: Vec3, pose = { turn: turnMatrix([0, 0, 0]), at: [0, 0, 0] as Vec3 }): number {
  const [form] = solid.forms
  if (form.form !== 'convex' || form.body.kind !== 'polytope') throw new Error('not a plate')
  const { vertices } = form.body
  let most = -Infinity
  for (let i = 0; i < vertices.length; i += 3)
    most = Math.max(most, dot(way, placed(pose, [vertices[i], vertices[i + 1], vertices[i + 2]])))
  return most
}

describe('mounts in the ledger', () => {
  const rows = (bay: Bay) => {
    const answer = ledger(bay, undefined, new Map())
    if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
    return answer.value
  }

  test('not against what its fixing is part of, which is said; against everything else', () => {
    const wall = keepOut('wall', { kind: 'box', at: [0, 60, -50], size: [40, 20, 10] })
    const { pairs, exempt, verdict } = rows(mountedBay([plate()], [stud()], {}, [rail, wall]))
    expect(pairs.map(({ part, keepOut: other }) => `${part} ${other}`).sort()).toEqual([
      'core rail',
      'core wall',
      'mount-foot wall',
    ])
    expect(pairs.find(({ part }) => part === 'mount-foot')?.gap).toBeCloseTo(20, 9)
    expect(exempt).toEqual([{ part: 'mount-foot', from: 'rail', length: 0, whole: true }])
    expect(verdict).toBe('clears')
  })

  test('without a keep-out named, its fixing does not keep it from fouling', () => {
    const low = plate({ shape: { kind: 'block', size: [60, 40, 25], holes: [{ diameter: 10, fixing: 'stud' }] } })
    expect(rows(mountedBay([low], [stud({ sitsOn: undefined })])).verdict).toBe('fouls')
    expect(rows(mountedBay([low], [stud()])).verdict).toBe('clears')
  })

  test('the image of a mirrored keep-out is a thing of its own', () => {
    const twin = keepOut('twin', { kind: 'box', at: [0, 100, -80], size: [40, 190, 40] }, { mirror: true })
    const low = plate({ shape: { kind: 'block', size: [60, 40, 25], holes: [{ diameter: 10, fixing: 'stud' }] } })
    const { pairs } = rows(mountedBay([low], [stud({ sitsOn: 'twin-mirror' })], {}, [twin]))
    const own = pairs.filter(({ part }) => part === 'mount-foot').map(({ keepOut: other }) => other)
    expect(own).toEqual(['twin'])
  })
})
