import { expect, test } from 'vitest'
import { bar, block, cornerBay, dropBay, sealedBay, subjectOf, tiltBay } from '../../test/kit/seatBays.ts'
import { tinyBay } from '../../test/kit/tinyBay.ts'
import type { Meshes } from '../bay/part.ts'
import { isClosed } from './closed.ts'
import { Work } from './work.ts'

const closed = (bay: ReturnType<typeof tinyBay>, meshes: Meshes = new Map(), most = 600_000): boolean =>
  isClosed(subjectOf(bay, meshes), new Work(most), most)

/** A box about a core of 60 × 200 × 100, with a slot of a width below it. */
const slotted = (width: number) =>
  tinyBay(
    [
      block('front', [-90, -60], [-200, 200], [-120, 120]),
      block('rear', [60, 90], [-200, 200], [-120, 120]),
      block('left', [-90, 90], [-200, -150], [-120, 120]),
      block('right', [-90, 90], [150, 200], [-120, 120]),
      block('above', [-90, 90], [-200, 200], [90, 120]),
      block('below-front', [-90, -width / 2], [-200, 200], [-120, -90]),
      block('below-rear', [width / 2, 90], [-200, 200], [-120, -90]),
    ],
    bar(60, 200, 100),
  )

test('closed all round, and with a slot that the thinnest core could not leave by', () => {
  const { bay, meshes } = sealedBay()
  expect(closed(bay, meshes)).toBe(true)
  expect(closed(slotted(0))).toBe(true)
  expect(closed(slotted(40))).toBe(true)
})

test('a slot as wide as the core or wider is never called closed, nor is a bay with a way out', () => {
  expect(closed(slotted(61))).toBe(false)
  expect(closed(slotted(90))).toBe(false)
  const { bay, meshes } = dropBay()
  expect(closed(bay, meshes, 60_000)).toBe(false)
  const tilted = tiltBay()
  expect(closed(tilted.bay, tilted.meshes, 60_000)).toBe(false)
})

test('clearance that is wanted closes a slot that the core alone would pass', () => {
  const wanting = (clearance: number) => {
    const bay = slotted(66)
    return { ...bay, keepOuts: bay.keepOuts.map((each) => ({ ...each, clearance })) }
  }
  expect(closed(wanting(0))).toBe(false)
  expect(closed(wanting(12))).toBe(true)
})

test('it ends when its work is over, however large the bay', () => {
  const work = new Work(600_000)
  const subject = subjectOf(cornerBay(1900, 100, 900, 600))
  expect(isClosed(subject, work, 30_000)).toBe(false)
  // A few steps past it are looked at before it is noticed.
  expect(work.done).toBeLessThan(32_000)
})
