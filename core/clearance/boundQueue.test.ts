import { describe, expect, it } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { BoundQueue } from './boundQueue.ts'

describe('best-first queue', () => {
  it('gives the least bound first with its own pair, beyond the room it began with: 2000 entries, seed 1', () => {
    const random = seeded(1)
    const queue = new BoundQueue(4)
    const bounds = Array.from({ length: 2000 }, () => random.real(-5, 5))
    for (const [i, bound] of bounds.entries()) queue.push(bound, i, ~i)
    const sorted = [...bounds].sort((a, b) => a - b)
    for (const bound of sorted) {
      expect(queue.least()).toBe(bound)
      expect(queue.take()).toBe(true)
      expect(queue.bound).toBe(bound)
      expect(bounds[queue.first]).toBe(bound)
      expect(queue.second).toBe(~queue.first)
    }
    expect(queue.take()).toBe(false)
    expect(queue.least()).toBe(Number.POSITIVE_INFINITY)
  })

  it('keeps its order while entries come and go, seed 2', () => {
    const random = seeded(2)
    const queue = new BoundQueue(2)
    const held: number[] = []
    for (let i = 0; i < 3000; i++) {
      if (held.length === 0 || random.chance(0.6)) {
        const bound = random.int(50)
        held.push(bound)
        queue.push(bound, bound, 0)
      } else {
        held.sort((a, b) => b - a)
        queue.take()
        expect(queue.bound).toBe(held.pop())
        expect(queue.first).toBe(queue.bound)
      }
    }
    expect(queue.size).toBe(held.length)
    queue.clear()
    expect(queue.take()).toBe(false)
  })
})
