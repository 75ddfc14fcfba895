import { describe, expect, test } from 'vitest'
import type { KeepOut } from '../../../core/bay/schema.ts'
import type { Ledger } from '../../../core/verdict/answer.ts'
import { keepOut, tinyBay } from '../../../test/kit/tinyBay.ts'
import { isSelective, seeingAnew, startSeeing, withRole, withWithin } from './seeing.ts'
import { keysWith, leastGaps } from './shown.ts'

const box: KeepOut['shape'] = { kind: 'box', at: [0, 0, 0], size: [1, 1, 1] }
const bay = tinyBay([
  keepOut('beam', box, { role: 'safety' }),
  keepOut('lamp', box, { role: 'lamp', mirror: true }),
  keepOut('new', box),
])
const row = (id: string, gap: number) => ({ part: 'core', keepOut: id, gap })
const ledger = {
  pairs: [row('beam', 12), row('beam', 40), row('lamp', 80), row('lamp-mirror', 30)],
} as unknown as Ledger

describe('what is drawn', () => {
  test('a role is ghosted or hidden with its mirror images', () => {
    const seeing = withRole(withRole(startSeeing, 'lamp', 'hidden'), 'safety', 'ghosted')
    expect(keysWith('hidden', bay, seeing, ledger)).toEqual(['lamp', 'lamp-mirror'])
    expect(keysWith('ghosted', bay, seeing, ledger)).toEqual(['beam'])
    expect(isSelective(seeing)).toBe(true)
  })

  test('far ones are left out by their least gap; one without a known gap stays', () => {
    expect([...leastGaps(ledger)]).toEqual([
      ['beam', 12],
      ['lamp', 80],
      ['lamp-mirror', 30],
    ])
    expect(keysWith('hidden', bay, withWithin(startSeeing, 35), ledger)).toEqual(['lamp'])
    expect(keysWith('hidden', bay, withWithin(startSeeing, 0), null)).toEqual([])
  })

  test('the distance is remembered while it is off; another bay begins with everything, in the same letters', () => {
    const off = withWithin(withWithin(startSeeing, 25), null)
    expect(off).toMatchObject({ within: null, withinLast: 25 })
    const other = seeingAnew({ ...withRole(off, 'lamp', 'hidden'), text: 'large', dimensions: false })
    expect(other).toEqual({ ...startSeeing, text: 'large', dimensions: false })
    expect(isSelective(other)).toBe(false)
  })
})
