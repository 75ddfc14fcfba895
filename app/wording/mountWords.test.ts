import { expect, test } from 'vitest'
import { judgeMounts } from '../../core/seat/mountsJudged.ts'
import { mountedBay, plate, rail, stud } from '../../test/kit/mountedBay.ts'
import { keepOut } from '../../test/kit/tinyBay.ts'
import { jointSentences, jointsToTell } from './mountWords.ts'

const names = { fixing: (id: string) => `Fixing ${id}`, obstacle: (id: string) => `the ${id}` }

function told(bay: ReturnType<typeof mountedBay>, units: 'mm' | 'inch' = 'mm'): string[] {
  const judged = judgeMounts(bay, bay.candidates[0], new Map())
  if (!judged.ok) throw new Error(JSON.stringify(judged.faults))
  return jointsToTell(judged.value.mounts[0].joints).flatMap((joint) => jointSentences(joint, names, units))
}

test('a mount that goes on tells its room only, rounded down', () => {
  // A 10 mm hole on an 8 mm stud: 1 mm all round, less 0.5 mm of measuring.
  expect(told(mountedBay())).toEqual(['At Fixing stud 0.50 mm to spare at the worst, 0.50 mm by root-sum-square.'])
  expect(told(mountedBay(), 'inch')[0]).toMatch(/^At Fixing stud 0\.0196″ to spare/)
})

test('one that does not tells what to better, and the hole or slot that would do', () => {
  const loose = told(mountedBay([plate()], [stud({ uncertainty: 3 })]))
  expect(loose[0]).toMatch(/^At Fixing stud −2\.00 mm to spare at the worst/)
  expect(loose[1]).toBe('To better first: where Fixing stud is measured to be, from ±3.00 mm to ±1.00 mm.')
  expect(loose[2]).toMatch(/^A hole of 14\.00 mm would do/)
})

test('a hole that is too small is said with the one that would do', () => {
  const small = told(mountedBay([plate({}, { diameter: 7 })]))
  expect(small[0]).toBe('At Fixing stud: hole too small.')
  expect(small.at(-1)).toMatch(/^A hole of 9\.00 mm would do/)
})

test('a tool that does not reach says what is in the way', () => {
  const stop = keepOut('bar', { kind: 'box', at: [0, 0, -47], size: [200, 200, 6] })
  const closed = told(mountedBay([plate()], [stud({ tool: { diameter: 20, length: 60 } })], {}, [rail, stop]))
  expect(closed.at(-1)).toMatch(/^No tool reaches Fixing stud: .*the (bar|core).* in the way\.$/)
})
