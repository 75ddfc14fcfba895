import { expect, test } from 'vitest'
import type { CouplerJoint } from '../../../core/bay/workshopSchema.ts'
import { pipedBay } from '../../../test/kit/pipedBay.ts'
import { clampedBy, jointBrief, joinedBy, noJoint, weldJoint } from './jointEdits.ts'

const bay = pipedBay()
const joint: CouplerJoint = {
  kind: 'coupler',
  coupler: 'hose',
  gap: 8,
  clamps: { port: { clamp: 'clamp', roll: 30 } },
  bead: { height: 2, width: 4, fromEnd: 5 },
}

test('another coupler keeps clamps and bead, and of the rest what it has itself', () => {
  const elbow = joinedBy(bay, joint, 'bend')
  expect(elbow).toEqual({ kind: 'coupler', coupler: 'bend', clamps: joint.clamps, bead: joint.bead })
  expect(joinedBy(bay, { ...joint, coupler: 'bend', roll: 45 }, 'bend')).toMatchObject({ roll: 45 })
  expect(joinedBy(bay, { ...joint, roll: 45 }, 'hose')).toEqual(joint)
})

test('a weld or nothing keeps nothing', () => {
  expect(joinedBy(bay, joint, weldJoint)).toEqual({ kind: 'weld' })
  expect(joinedBy(bay, joint, noJoint)).toBeUndefined()
  expect(joinedBy(bay, { kind: 'weld' }, 'hose')).toEqual({ kind: 'coupler', coupler: 'hose' })
})

test('another clamp keeps its screw where it was; the last one taken off leaves no list', () => {
  expect(clampedBy(joint, 'port', 'other').clamps).toEqual({ port: { clamp: 'other', roll: 30 } })
  expect(clampedBy(joint, 'pipe', 'clamp').clamps).toEqual({ ...joint.clamps, pipe: { clamp: 'clamp' } })
  expect(clampedBy(joint, 'port', undefined)).not.toHaveProperty('clamps')
})

test('a joint in a word', () => {
  expect(jointBrief(bay, undefined)).toBe('no joint')
  expect(jointBrief(bay, { kind: 'weld' })).toBe('weld')
  expect(jointBrief(bay, joint)).toBe('Hose')
})
