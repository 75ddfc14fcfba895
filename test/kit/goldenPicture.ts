import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import pixelmatch from 'pixelmatch'
import { PNG } from 'pngjs'
import { root } from '../../bin/build.mjs'

/** Share of the pixels of the halved picture that may differ: the edges of letters and lines do, from one drawer to the next. */
const mayDiffer = 0.004
/** How far apart two colours may be, of 1 (pixelmatch's measure, by YIQ). */
const colours = 0.14

/**
 * Compares a picture with the one that was looked at and kept in test/golden/NAME.png, at half its size in each direction.
 * With GAPWRIGHT_GOLDEN=write it is kept anew instead; look at it then.
 * @returns what is wrong, or null. The picture and the places that differ are then left in test-results/golden.
 */
export function unlikeGolden(name: string, png: Uint8Array): string | null {
  const now = halved(PNG.sync.read(Buffer.from(png)))
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

/** The mean of each square of four pixels. */
export function halved(full: PNG): PNG {
  const half = new PNG({ width: full.width >> 1, height: full.height >> 1 })
  for (let y = 0; y < half.height; y++)
    for (let x = 0; x < half.width; x++)
      for (let c = 0; c < 4; c++) {
        const at = 4 * (2 * y * full.width + 2 * x) + c
        const below = at + 4 * full.width
        const sum = full.data[at] + full.data[at + 4] + full.data[below] + full.data[below + 4]
        half.data[4 * (y * half.width + x) + c] = Math.round(sum / 4)
      }
  return half
}

function write(path: string, picture: PNG): void {
  mkdirSync(dirname(path), { recursive: true })
  writeFileSync(path, PNG.sync.write(picture, { colorType: 2, deflateLevel: 9 }))
}
