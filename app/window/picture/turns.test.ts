import { expect, test } from 'vitest'
import { Turns } from './turns.ts'

/** Graphics that draw only when they are told to. */
function graphics() {
  const waiting: (() => void)[] = []
  return {
    drawn: () => new Promise<void>((done) => waiting.push(done)),
    async finish() {
      await new Promise((done) => setTimeout(done))
      waiting.shift()?.()
      await new Promise((done) => setTimeout(done))
    },
  }
}

test('nothing begins before what came before it is drawn', async () => {
  const { drawn, finish } = graphics()
  const turns = new Turns(drawn)
  const begun: string[] = []
  const first = turns.take(() => begun.push('first'))
  const second = turns.take(async () => begun.push('second'))
  expect(await first).toBe(1)
  expect(begun).toEqual(['first'])
  await finish()
  expect(begun).toEqual(['first', 'second'])
  expect(await second).toBe(2)
})

test('work that fails tells whoever asked for it, and does not keep up the rest', async () => {
  const turns = new Turns(async () => {})
  const wrong = turns.take(() => {
    throw new Error('no room for so many pixels')
  })
  const next = turns.take(() => 'drawn')
  await expect(wrong).rejects.toThrow('no room')
  expect(await next).toBe('drawn')
})

test('graphics that are lost do not keep up the rest either', async () => {
  const turns = new Turns(() => Promise.reject(new Error('lost')))
  await turns.take(() => {})
  expect(await turns.take(() => 'drawn')).toBe('drawn')
})
