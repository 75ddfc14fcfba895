import { expect, test, vi } from 'vitest'
import { Pace } from './pace.ts'
import type { PaceNow } from './protocol.ts'

/** A drawing after the other, each of which takes so long. */
function drawings() {
  let now = 0
  vi.spyOn(performance, 'now').mockImplementation(() => now)
  const news: PaceNow[] = []
  const pace = new Pace((told) => news.push(told))
  const draw = async (
    weight: { heavy: string; full: number; light: number },
    moving: boolean,
    milliseconds: number,
  ) => {
    const light = pace.isLight(weight, moving)
    let again = false
    const drawn = async () => {
      now += milliseconds
    }
    pace.began(weight, moving, drawn, () => {
      again = true
    })
    await new Promise((done) => setTimeout(done))
    return { light, again }
  }
  return { news, draw }
}

test('with heavy solids the drawing is light while it moves, until a full one has shown to be quick', async () => {
  const { news, draw } = drawings()
  const slowOne = { heavy: 'scan', full: 300_000, light: 20_000 }
  expect(await draw(slowOne, true, 5)).toEqual({ light: true, again: false })
  expect(await draw(slowOne, false, 60)).toEqual({ light: false, again: false })
  expect(news).toEqual([{ slow: true, lighter: false }])
  expect(await draw(slowOne, true, 5)).toEqual({ light: true, again: false })
  const quickOne = { ...slowOne, heavy: 'cover' }
  await draw(quickOne, false, 10)
  expect(await draw(quickOne, true, 10)).toEqual({ light: false, again: false })
  expect(news.at(-1)).toEqual({ slow: false, lighter: false })
  expect((await draw({ heavy: '', full: 100, light: 100 }, true, 1)).light).toBe(false)
})

test('a huge drawing is judged by its second lighter one, and never made in full where that would take too long', async () => {
  const { news, draw } = drawings()
  const huge = { heavy: 'dragon', full: 3_000_000, light: 100_000 }
  expect(await draw(huge, false, 90)).toEqual({ light: true, again: true })
  expect(news).toEqual([])
  expect(await draw(huge, false, 20)).toEqual({ light: true, again: false })
  expect(news).toEqual([{ slow: true, lighter: true }])
  expect((await draw(huge, false, 20)).light).toBe(true)
  await draw({ heavy: 'lamp', full: 10_000, light: 5_000 }, false, 8)
  expect(news.at(-1)).toEqual({ slow: false, lighter: false })
})

test('a huge drawing is made in full where the machine is quick enough', async () => {
  const { news, draw } = drawings()
  const huge = { heavy: 'dragon', full: 3_000_000, light: 100_000 }
  await draw(huge, false, 90)
  expect(await draw(huge, false, 1)).toEqual({ light: true, again: true })
  expect(await draw(huge, false, 20)).toEqual({ light: false, again: false })
  expect(news.at(-1)).toEqual({ slow: false, lighter: false })
})
