import { describe, expect, it } from 'vitest'
import type { Vec3 } from '../../shape/vec.ts'
import type { LedgerPair } from '../../verdict/answer.ts'
import { passesOf } from './passes.ts'

const row = (keepOut: string, onPart: Vec3, onKeepOut: Vec3, change: Partial<LedgerPair> = {}): LedgerPair => ({
  part: 'pipe-hot',
  keepOut,
  role: 'body',
  gap: Math.hypot(...onPart.map((x, k) => x - onKeepOut[k])),
  error: 0,
  tolerance: 0,
  uncertainty: 0,
  required: 0,
  margin: 1,
  verdict: 'clears',
  onPart,
  onKeepOut,
  ...change,
})

describe('sides on which a pipe passes', () => {
  const nowhere = new Set<string>()

  it('are those of the bay: X rearward, Y to the right, Z up', () => {
    const rows = [
      row('a', [-10, 0, 0], [0, 0, 0]),
      row('b', [11, 3, 0], [0, 0, 0]),
      row('c', [0, -12, 1], [0, 0, 0]),
      row('d', [0, 13, 1], [0, 0, 0]),
      row('e', [1, 2, -14], [0, 0, 0]),
      row('f', [1, 2, 15], [0, 0, 0]),
    ]
    const sides = passesOf(rows, 'pipe-hot', nowhere).map(({ keepOut, side }) => `${keepOut} ${side}`)
    expect(sides).toEqual(['a front', 'b behind', 'c left', 'd right', 'e below', 'f above'])
  })

  it('are told from the nearest on, as far as 140 mm, and not of what the pipe is joined to', () => {
    const rows = [
      row('far', [141, 0, 0], [0, 0, 0]),
      row('edge', [0, 139, 0], [0, 0, 0]),
      row('near', [0, 0, -5], [0, 0, 0]),
      row('tank-left', [0, 3, 0], [0, 0, 0], { role: 'part', between: 'parts' }),
    ]
    expect(passesOf(rows, 'pipe-hot', new Set(['tank-left']))).toEqual([
      { keepOut: 'near', side: 'below', gap: 5 },
      { keepOut: 'edge', side: 'right', gap: 139 },
    ])
  })

  it('turn round where the pipe is the other part of the row', () => {
    const rows = [row('pipe-hot', [0, 0, 0], [0, 0, 20], { part: 'pipe-cold', role: 'part', between: 'parts' })]
    expect(passesOf(rows, 'pipe-hot', nowhere)).toEqual([{ keepOut: 'pipe-cold', side: 'above', gap: 20 }])
  })

  it('are not told where it touches: there is no side', () => {
    expect(passesOf([row('a', [0, 0, 0], [0, 0, 0])], 'pipe-hot', nowhere)).toEqual([])
  })
})
