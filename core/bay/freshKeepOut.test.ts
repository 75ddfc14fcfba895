import { describe, expect, test } from 'vitest'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { emptyBay, frameNote } from './emptyBay.ts'
import {
  copyOf,
  freshKeepOut,
  freshOpening,
  freshPort,
  freshShape,
  pipesAt,
  placeForNew,
  type TypedKind,
  withMirror,
  withoutKeepOut,
} from './freshKeepOut.ts'
import { checkBay, readBay } from './read.ts'
import type { Bay } from './schema.ts'
import { idOf, nameLike } from './unlike.ts'
import { writeBay } from './write.ts'

const kinds: readonly TypedKind[] = ['box', 'cylinder', 'hull', 'halfSpace', 'sweep', 'tube']
const empty = (units: Bay['units'] = 'mm') => emptyBay('Test bay', 'centre of the rail', frameNote, units)
const faults = (bay: Bay) => {
  const checked = checkBay(bay)
  return checked.ok ? [] : checked.faults
}

describe('an empty bay', () => {
  test.each(['mm', 'inch'] as const)('is a bay that can be written and read, in %s', (units) => {
    const bay = empty(units)
    expect(faults(bay)).toEqual([])
    expect(readBay(writeBay(bay))).toEqual({ ok: true, value: bay })
  })
  test('needs no note on its axes', () => {
    expect(emptyBay('a', 'b', '', 'mm').frame).toEqual({ origin: 'b' })
  })
})

describe('a new keep-out', () => {
  test.each(kinds.flatMap((kind) => (['mm', 'inch'] as const).map((units) => [kind, units] as const)))(
    '%s is a solid at once, in %s',
    (kind, units) => {
      const bay = empty(units)
      const keepOut = freshKeepOut(bay, freshShape(kind, units, [12.5, -300, 40]), 'Washer bottle')
      expect(keepOut).toMatchObject({ id: 'washer-bottle', name: 'Washer bottle', role: 'body', shape: { kind } })
      expect(faults({ ...bay, keepOuts: [keepOut] })).toEqual([])
    },
  )

  test('all kinds again and again get names and ids of their own', () => {
    let bay = empty()
    for (const kind of [...kinds, ...kinds, ...kinds])
      bay = { ...bay, keepOuts: [...bay.keepOuts, freshKeepOut(bay, freshShape(kind, 'mm', [0, 0, 0]), 'Box')] }
    expect(faults(bay)).toEqual([])
    expect(bay.keepOuts[2]).toMatchObject({ id: 'box-3', name: 'Box 3' })
  })

  test('keeps away from ids of mirror images', () => {
    const bay = sampleBay() as Bay
    const mirrored = bay.keepOuts.find(({ mirror }) => mirror)!
    const clash = freshKeepOut(bay, mirrored.shape, `${mirrored.id} mirror`)
    expect(clash.id).toBe(`${mirrored.id}-mirror-2`)
    expect(faults({ ...bay, keepOuts: [...bay.keepOuts, clash] })).toEqual([])
  })

  test('begins above the candidate, else amid what there is, else at the origin', () => {
    const bay = sampleBay() as Bay
    const [candidate] = bay.candidates
    const [x, , z] = placeForNew(bay, candidate, null)
    expect(Math.abs(x - candidate.at[0])).toBeLessThanOrEqual(5)
    expect(z).toBeGreaterThan(candidate.at[2] + candidate.core.height / 2)
    expect(placeForNew(bay, null, { min: [-101, 0, 0], max: [0, 40, 200] })).toEqual([-50, 20, 100])
    expect(placeForNew(empty(), null, { min: [-1, -1, -1], max: [99, 99, 99] })).toEqual([0, 0, 0])
    expect(placeForNew({ ...bay, units: 'inch' }, null, { min: [0, 0, 0], max: [50, 100, 30] })).toEqual([
      25.4, 50.8, 25.4,
    ])
  })
})

describe('keep-outs that are copied, mirrored and taken out', () => {
  const bay = sampleBay() as Bay

  test('a copy is the same under its own name', () => {
    const [first] = bay.keepOuts
    const copy = copyOf(bay, first)
    expect({ ...copy, id: '', name: '' }).toEqual({ ...first, id: '', name: '' })
    expect(bay.keepOuts.map(({ id }) => id)).not.toContain(copy.id)
    expect(faults({ ...bay, keepOuts: [...bay.keepOuts, copy] })).toEqual([])
  })

  test('each can go; what sat on it sits on nothing named then, and is told', () => {
    const told: string[] = []
    for (const { id } of bay.keepOuts) {
      const { bay: less, sat } = withoutKeepOut(bay, id)
      expect(faults(less)).toEqual([])
      expect(less.keepOuts).toHaveLength(bay.keepOuts.length - 1)
      told.push(...sat)
    }
    const sitting = [...(bay.ports ?? []), ...(bay.fixings ?? [])].filter(({ sitsOn }) => sitsOn !== undefined)
    expect(sitting.length).toBeGreaterThan(0)
    expect(told.sort()).toEqual(sitting.map(({ name }) => name).sort())
  })

  test('on both sides and on one again is the same bay', () => {
    for (const { id, mirror } of bay.keepOuts) {
      expect(faults(withMirror(bay, id, true))).toEqual([])
      expect(faults(withMirror(bay, id, false))).toEqual([])
      if (!mirror) expect(withMirror(withMirror(bay, id, true), id, false)).toEqual(bay)
    }
  })
})

describe('new ports and openings', () => {
  test('are valid at once and unlike the others', () => {
    let bay = sampleBay() as Bay
    for (let n = 0; n < 3; n++) {
      bay = { ...bay, ports: [...(bay.ports ?? []), freshPort(bay, 'Port', [1, 2, 3])] }
      bay = { ...bay, openings: [...(bay.openings ?? []), freshOpening(bay, 'Opening', [1, 2, 3])] }
    }
    expect(faults(bay)).toEqual([])
    expect(new Set(bay.ports?.map(({ id }) => id)).size).toBe(bay.ports?.length)
  })

  test('a port tells which pipes end at it', () => {
    const bay = sampleBay() as Bay
    const pipes = bay.candidates.flatMap(({ pipes: own = [] }) => own)
    const port = bay.ports?.find(({ id }) => pipes.some(({ from, to }) => from === id || to === id))
    expect(pipesAt(bay, port!.id).length).toBeGreaterThan(0)
    expect(pipesAt(bay, 'nothing')).toEqual([])
  })
})

describe('ids and names', () => {
  test.each([
    ['Crash beam', 'crash-beam'],
    ['Kühler (vorn)', 'kuhler-vorn'],
    ['Straße 2', 'strasse-2'],
    ['  --  ', 'item'],
    ['ランプ', 'item'],
    ['A'.repeat(200), 'a'.repeat(60)],
  ])('%j is called %j', (name, id) => {
    expect(idOf(name, [])).toBe(id)
  })
  test('numbers are counted on', () => {
    expect(idOf('Box', ['box', 'box-2'])).toBe('box-3')
    expect(nameLike('Box', ['Box'])).toBe('Box 2')
  })
})
