import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { Progress } from './progress.ts'

let said: string[]
const ioWith = (rewritableColumns?: number) => ({
  out: () => {},
  err: (text: string) => said.push(text),
  colour: false,
  ascii: false,
  rewritableColumns,
})
beforeEach(() => {
  said = []
  vi.useFakeTimers({ toFake: ['performance'] })
})
afterEach(() => {
  vi.useRealTimers()
})
/** A search that tells every 10 ms. */
const run = (progress: Progress, milliseconds: number) => {
  for (let t = 0; t < milliseconds; t += 10) {
    vi.advanceTimersByTime(10)
    progress.told(t, 2 * t)
  }
}

describe('progress', () => {
  test('what is soon over is not talked about', () => {
    for (const columns of [undefined, 80]) {
      const progress = new Progress(ioWith(columns), () => 'x')
      run(progress, 390)
      progress.end()
    }
    expect(said).toEqual([])
  })

  test('a log gets a line after 2, 4, 8 and 16 s', () => {
    const progress = new Progress(ioWith(), (inHand, bound) => `${inHand} to ${bound}`)
    run(progress, 20_000)
    progress.end()
    expect(said).toEqual([
      '  2.0 s  1990 to 3980\n',
      '  4.0 s  3990 to 7980\n',
      '  8.0 s  7990 to 15980\n',
      ' 16.0 s  15990 to 31980\n',
    ])
  })

  test('a terminal gets one line, written over, never wider than it, and taken away at the end', () => {
    const progress = new Progress(ioWith(30), (inHand) => `value ${inHand}`)
    run(progress, 3000)
    progress.end()
    expect(said.length).toBeGreaterThan(20)
    expect(said.length).toBeLessThan(32)
    for (const text of said.slice(0, -1)) {
      expect(text.startsWith('\r')).toBe(true)
      expect(text.endsWith('\u001b[K')).toBe(true)
      expect(text.length - 4).toBeLessThan(30)
    }
    expect(said.at(-1)).toBe('\r\u001b[K')
  })
})
