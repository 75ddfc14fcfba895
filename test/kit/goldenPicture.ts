import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import pixelmatch from 'pixelmatch'
import { PNG } from 'pngjs'
import { root } from '../../bin/build.mjs'

/** Share of the pixels of the reduced picture that may differ: the edges of letters and lines do, from one drawer to the next. */
const mayDiffer = 0.004
/** How far apart two colours may be, of 1 (pixelmatch's measure, by YIQ). */
const colours = 0.14

/**
 * Compares a picture with the one that was looked at and kept in test/golden/NAME.png, reduced in size.
 * @param by pixels that become one, in each direction
 * With GAPWRIGHT_GOLDEN=write it is kept anew instead; look at it then.
 * @returns what is wrong, or null. The picture and the places that differ are then left in test-results/golden.
 */
export function unlikeGolden(name: string, png: Uint8Array, by = 2): string | null {
  const now = reduced(PNG.sync.read(Buffer.from(png)), by)
  const kept = join(root, 'test', 'golden', `${name}.png`)
  if (process.env.GAPWRIGHT_GOLDEN === 'write') {
    write(kept, now)
    return null
  }
  if (!existsSync(kept)) return `there is no test/golden/${name}.png`
  const former = PNG.sync.read(readFileSync(kept))
  const wrong = unlike(former, now)
  if (wrong === null) return null
  const results = join(root, 'test-results', 'golden')
  write(join(results, `${name}.png`), now)
  if (wrong.places) write(join(results, `${name}-differs.png`), wrong.places)
  return `${name}: ${wrong.what}; see test-results/golden`
}

/** What tells two pictures apart, with the places marked; null where that is no more than how edges are drawn. */
export function unlike(former: PNG, now: PNG): { readonly what: string; readonly places: PNG | null } | null {
  const { width, height } = former
  if (now.width !== width || now.height !== height)
    return { what: `${now.width} × ${now.height} instead of ${width} × ${height}`, places: null }
  const places = new PNG({ width, height })
  const count = pixelmatch(former.data, now.data, places.data, width, height, { threshold: colours })
  const share = count / (width * height)
  return share <= mayDiffer ? null : { what: `${(100 * share).toFixed(2)} % of it differ`, places }
}

/** Colours are kept in steps of this, of 255: far finer than what counts as another, and the files are a third. */
const step = 17

/** The mean of each square of pixels, in steps of colour. */
export function reduced(full: PNG, by: number): PNG {
  const small = new PNG({ width: Math.floor(full.width / by), height: Math.floor(full.height / by) })
  for (let y = 0; y < small.height; y++)
    for (let x = 0; x < small.width; x++)
      for (let c = 0; c < 4; c++) {
        const mean = meanOf(full, by * x, by * y, by, c)
        small.data[4 * (y * small.width + x) + c] = step * Math.round(mean / step)
      }
  return small
}

function meanOf({ data, width }: PNG, left: number, top: number, by: number, channel: number): number {
  let sum = 0
  for (let y = top; y < top + by; y++) for (let x = left; x < left + by; x++) sum += data[4 * (y * width + x) + channel]
  return sum / by ** 2
}

function write(path: string, picture: PNG): void {
  mkdirSync(dirname(path), { recursive: true })
  writeFileSync(path, PNG.sync.write(picture, { colorType: 2, deflateLevel: 9 }))
}
