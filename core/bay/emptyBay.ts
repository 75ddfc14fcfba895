import type { Bay } from './schema.ts'

/** Axes as the frame of every bay has them: the sense of ISO 4130. */
export const frameNote = 'X rearward, Y to the right, Z up'

/**
 * A bay in which nothing is measured yet.
 * @param origin where the frame's origin is on the car, in words
 */
export function emptyBay(name: string, origin: string, note: string, units: Bay['units']): Bay {
  return {
    format: 'gapwright-bay',
    version: 1,
    name,
    frame: { origin, ...(note !== '' && { note }) },
    units,
    keepOuts: [],
    candidates: [],
  }
}
