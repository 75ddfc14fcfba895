import { expect, test } from 'vitest'
import { cropped, lettersWidth } from './letters.ts'

test('what fits is left as it is, and what does not ends with … and fits', () => {
  expect(cropped('Wide core', 100, 8)).toBe('Wide core')
  for (const width of [20, 50, 90]) {
    const short = cropped('A wide core with a name that goes on and on', width, 8, true)
    expect(short).toMatch(/^A.*…$/)
    expect(lettersWidth(short, 8, true)).toBeLessThanOrEqual(width)
  }
})

test('a sign of two halves is never torn', () => {
  expect(cropped('𝄞𝄞𝄞𝄞𝄞𝄞', 30, 8)).toMatch(/^𝄞+…$/u)
})
