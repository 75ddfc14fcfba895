import { expect, test } from 'vitest'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { checkAnswer } from './checkAnswer.ts'
import { ledger } from './ledger.ts'

test('the answer of check has the fields that others rely on, and survives JSON whole', () => {
  const bay = sampleBay()
  const made = ledger(bay, undefined, new Map())
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  const answer = checkAnswer(bay, 'ab'.repeat(32), made.value)
  expect(Object.keys(answer)).toEqual([
    'command',
    'bay',
    'candidate',
    'verdict',
    'pairs',
    'leftOut',
    'unrouted',
    'exempt',
  ])
  expect(answer).toMatchObject({
    command: 'check',
    bay: { name: 'Sample bay', sha256: 'ab'.repeat(32) },
    candidate: 'wide',
  })
  expect(JSON.parse(JSON.stringify(answer))).toEqual(answer)
  // Core, two tanks, a stub and a pipe against seven keep-outs of which one is mirrored; the pipe's first end sits on the
  // radiator; and the pipe against the four other parts.
  expect(answer.pairs).toHaveLength(5 * 8 + 4)
  const asked = [
    'part',
    'keepOut',
    'role',
    'gap',
    'error',
    'tolerance',
    'uncertainty',
    'required',
    'margin',
    'verdict',
    'onPart',
    'onKeepOut',
  ]
  for (const pair of answer.pairs) {
    expect(
      Object.keys(pair)
        .filter((key) => asked.includes(key))
        .sort(),
    ).toEqual([...asked].sort())
    expect(pair.margin).toBe(pair.gap - pair.error - pair.tolerance - pair.uncertainty - pair.required)
    expect(pair.error).toBeGreaterThanOrEqual(0)
    expect(pair.error).toBeLessThanOrEqual(0.001)
  }
  expect([...answer.pairs].sort((a, b) => a.margin - b.margin).map((pair) => pair.margin)).toEqual(
    answer.pairs.map((pair) => pair.margin),
  )
})
