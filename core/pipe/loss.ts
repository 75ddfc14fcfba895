/** Pressure loss of one pipe as a band between published methods, Pa. */
export interface PipeLoss {
  readonly atLeast: number
  readonly atMost: number
  /** m/s, in the pipe's bore. */
  readonly speed: number
  readonly reynolds: number
  /** Speed over that of sound; air only. */
  readonly mach?: number
  readonly items: readonly {
    readonly what: 'friction' | 'bend' | 'widening' | 'narrowing'
    /** Number of the corner in the pipe's points, for bends. */
    readonly point?: number
    readonly atLeast: number
    readonly atMost: number
    /** Names of the methods at the lower and the upper end. */
    readonly methods: readonly [string, string]
  }[]
}
