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
  expect(turns.isBusy).toBe(false)
  const first = turns.take(() => begun.push('first'))
  const second = turns.take(async () => begun.push('second'))
  let idle = false
  void turns.idle.then(() => {
    idle = true
  })
  expect(await first).toBe(1)
  expect(begun).toEqual(['first'])
  expect(turns.isBusy).toBe(true)
  await finish()
  expect(begun).toEqual(['first', 'second'])
  expect([await second, turns.isBusy, idle]).toEqual([2, true, false])
  await finish()
  expect([turns.isBusy, idle]).toEqual([false, true])
})

test('work that fails tells whoever asked for it, and does not keep up the rest', async () => {
  const turns = new Turns(async () => {})
  const wrong = turns.take(() => {
    throw new Error('no room for so many pixels')
  })
  const next = turns.take(() => 'drawn')
  await expect(wrong).rejects.toThrow('no room')
  expect(await next).toBe('drawn')
  await turns.idle
  expect(turns.isBusy).toBe(false)
})

test('graphics that are lost do not keep up the rest either', async () => {
  const turns = new Turns(() => Promise.reject(new Error('lost')))
  await turns.take(() => {})
  await turns.idle
  expect(turns.isBusy).toBe(false)
})
