import type { Candidate } from '../../../core/bay/schema.ts'

/** The core's own volume in litres, three figures. */
export function litresText({ depth, width, height }: Candidate['core']): string {
  const litres = (depth * width * height) / 1e6
  return litres.toFixed(litres < 10 ? 2 : litres < 100 ? 1 : 0)
}
