import { expect, test } from 'vitest'
import type { PassSide } from '../../../core/pipe/route/answer.ts'
import { tellingFirst } from './telling.ts'

const pass = (keepOut: string, side: PassSide, gap: number) => ({ keepOut, side, gap })
const names = (passes: readonly { keepOut: string }[]) => passes.map(({ keepOut }) => keepOut)

test('what sets a route apart from the others is told first, then what is nearest', () => {
  const one = { passes: [pass('beam', 'below', 5), pass('can', 'left', 30), pass('rail', 'above', 9)] }
  const two = { passes: [pass('beam', 'below', 6), pass('can', 'right', 12), pass('rail', 'above', 8)] }
  const three = { passes: [...two.passes, pass('lamp', 'behind', 40)] }
  expect(names(tellingFirst(one, [one, two]))).toEqual(['can', 'beam', 'rail'])
  // The lamp, which only the third comes near; the can, which the first has on another side.
  expect(names(tellingFirst(three, [one, two, three]))).toEqual(['can', 'lamp', 'beam', 'rail'])
})

test('a route alone tells what is nearest', () => {
  const one = { passes: [pass('can', 'left', 30), pass('beam', 'below', 5)] }
  expect(names(tellingFirst(one, [one]))).toEqual(['beam', 'can'])
})
