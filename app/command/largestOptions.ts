import type { Aim } from '../wording/amounts.ts'
import type { Box, Range } from './options.ts'
import type { SearchOptions } from './searching.ts'

export interface LargestOptions extends SearchOptions {
  readonly for: Aim
  readonly within: number
  readonly eachDepth?: boolean
  readonly seated?: boolean
  /** Clearance wanted on the way in, mm; only with `seated`. */
  readonly need?: number
  readonly tilt?: Range
  readonly withinBox?: Box
}
