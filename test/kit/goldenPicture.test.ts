import { PNG } from 'pngjs'
import { expect, it } from 'vitest'
import { reduced, unlike } from './goldenPicture.ts'

/** Paper with a grid of lines, and a block of ink somewhere. */
function picture(at: number, tint = 0): PNG {
  const png = new PNG({ width: 400, height: 300 })
  for (let y = 0; y < 300; y++)
    for (let x = 0; x < 400; x++) {
      const isInk = (x >= at && x < at + 60 && y >= 100 && y < 120) || x % 40 === 0
      const value = (isInk ? 30 : 250) + tint
      png.data.set([value, value, value, 255], 4 * (y * 400 + x))
    }
  return reduced(png, 2)
}

it('passes what is the same but for a shade', () => {
  expect(unlike(picture(50), picture(50))).toBeNull()
  expect(unlike(picture(50), picture(50, 3))).toBeNull()
})

it('tells a block that has moved or gone, and another size', () => {
  expect(unlike(picture(50), picture(70))?.what).toMatch(/% of it differ/)
  expect(unlike(picture(50), picture(1000))?.places?.width).toBe(200)
  expect(unlike(picture(50), reduced(new PNG({ width: 400, height: 200 }), 2))?.what).toBe(
    '200 × 100 instead of 200 × 150',
  )
})
