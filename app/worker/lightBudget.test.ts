import { expect, test } from 'vitest'
import { lightBudget } from './lightBudget.ts'

test('a light bay asks nothing of its solids', () => {
  expect(lightBudget(100_000, 250_000)).toBeNull()
})

test('in a heavy bay each solid gives in proportion, and the sum is about what can be drawn', () => {
  const solids = Array.from({ length: 60 }, (_, i) => 20_000 + 1000 * i)
  const all = solids.reduce((sum, n) => sum + n)
  const budgets = solids.map((own) => lightBudget(own, all) ?? own)
  expect(budgets.reduce((sum, n) => sum + n)).toBeLessThan(50_000)
  expect(budgets[59]).toBeGreaterThan(3 * budgets[0])
})

test('what has few triangles stays as it is', () => {
  expect(lightBudget(300, 3_000_000)).toBeNull()
})
