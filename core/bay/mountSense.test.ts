import { describe, expect, test } from 'vitest'
import { mountedBay, plate, stud } from '../../test/kit/mountedBay.ts'
import type { Fixing, Mount } from './mountSchema.ts'
import { checkBay, readBay } from './read.ts'
import { writeBay } from './write.ts'

function codes(mounts: Mount[], fixings: Fixing[] = [stud()]): string[] {
  const answer = checkBay(mountedBay(mounts, fixings))
  return answer.ok
    ? []
    : answer.faults.map(({ code, field, nearest }) => [code, field, nearest].filter(Boolean).join(' '))
}

const shaped = (shape: Mount['shape']) => plate({ shape })
const holed = (hole: object) => plate({}, hole)

describe('fixings and mounts in the bay', () => {
  test('read, written and read again they are the same', () => {
    const slot = stud({ id: 'slot', kind: 'slot', length: 20, along: [0, 1, 0], tool: { diameter: 20, length: 100 } })
    const bay = mountedBay(
      [
        plate({ tolerance: 1, fitting: 'after' }, { length: 14, angle: 30 }),
        plate({ id: 'second' }, { fixing: 'slot', bolt: 7 }),
        { ...shaped({ kind: 'pin', diameter: 6, length: 20, fixing: 'slot' }), id: 'pin' },
      ],
      [stud(), slot],
    )
    const read = readBay(writeBay(bay))
    expect(read.ok && read.value).toEqual(bay)
  })

  const on = 'candidates[0].mounts[0].shape'
  test.each<[string, Mount, string]>([
    [
      'a plate without a hole',
      shaped({ kind: 'plate', size: [60, 40], thickness: 3 }),
      `mount-without-fixing ${on}.holes`,
    ],
    [
      'an empty list of holes',
      shaped({ kind: 'block', size: [60, 40, 3], holes: [] }),
      `mount-without-fixing ${on}.holes`,
    ],
    ['a pin that goes nowhere', shaped({ kind: 'pin', diameter: 6, length: 3 }), `mount-without-fixing ${on}.fixing`],
    ['a fixing that is not there', holed({ fixing: 'stut' }), `unknown-fixing ${on}.holes[0].fixing stud`],
    [
      'a tank that is not there',
      plate({ on: { part: 'tank-left', face: 'end', u: 0, v: 0 } }),
      'unknown-part candidates[0].mounts[0].on.part',
    ],
    ['a pin on a stud', shaped({ kind: 'pin', diameter: 6, length: 3, fixing: 'stud' }), `pin-on-solid ${on}.fixing`],
    ['a bolt beside a stud', holed({ bolt: 6 }), `bolt-too-many ${on}.holes[0].bolt`],
    ['a slot shorter than wide', holed({ length: 9 }), `slot-too-short ${on}.holes[0].length`],
    ['a hole over the edge', holed({ at: [25.1, 0] }), `hole-off-plate ${on}.holes[0].at`],
    ['a slot over the edge', holed({ length: 41, angle: 90 }), `hole-off-plate ${on}.holes[0].at`],
  ])('%s', (_, mount, said) => expect(codes([mount])).toEqual([said]))

  test('a hole that just lies in the plate, and one smaller than its stud, are no faults', () => {
    expect(codes([holed({ at: [25, 15] })])).toEqual([])
    expect(codes([holed({ diameter: 5 })])).toEqual([])
  })

  test.each<[string, Partial<Fixing>, string[]]>([
    [
      'a slot without length and way',
      { kind: 'slot' },
      ['missing-field fixings[0].length', 'missing-field fixings[0].along'],
    ],
    ['a stud with a length', { length: 20 }, ['not-a-slot fixings[0].length']],
    ['a slot along its axis', { kind: 'slot', length: 20, along: [0, 0.02, 1] }, ['slot-along-axis fixings[0].along']],
    ['a slot shorter than wide', { kind: 'slot', length: 7, along: [1, 0, 0] }, ['slot-too-short fixings[0].length']],
    ['on a keep-out that is not there', { sitsOn: 'rial' }, ['unknown-keep-out fixings[0].sitsOn rail']],
  ])('%s', (_, change, said) => {
    const bolt = change.kind === 'slot' ? { bolt: 7 } : {}
    expect(codes([holed(bolt)], [stud(change)])).toEqual(said)
  })

  test('a hole on a hole wants a bolt; ids come once', () => {
    expect(codes([holed({})], [stud({ kind: 'hole' })])).toEqual([`bolt-missing ${on}.holes[0].bolt`])
    expect(codes([plate(), plate()])).toEqual(['duplicate-id candidates[0].mounts[1].id'])
    expect(codes([plate()], [stud(), stud()])).toEqual(['duplicate-id fixings[1].id'])
  })
})
