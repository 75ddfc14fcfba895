import { ends } from './friction.ts'

/** Loss of a change of bore, as a band, in shares of ρv²/2 of the narrower bore. */
export interface StepCoefficient {
  readonly what: 'widening' | 'narrowing'
  readonly atLeast: number
  readonly atMost: number
  readonly methods: readonly [string, string]
}

/**
 * Loss where the bore changes, in the direction of flow.
 * @param before, after bores, mm, above 0
 * @param length of the cone between them, mm; 0: a sudden step
 * @returns null where the bores are the same. The upper end is that of the sudden step, which no cone exceeds by much;
 *   the lower that of the cone, where it has a length.
 * Source: sudden widening (1 − A₁/A₂)² (Borda–Carnot); sudden narrowing 0.5 (1 − A₂/A₁) (Weisbach, Crane) and
 *   0.5 (1 − A₂/A₁)^0.75 (Idelchik, diagram 4-9, from memory); cones of full angle θ up to 45°, else as sudden:
 *   2.6 sin(θ/2) times the sudden widening, 1.6 sin(θ/2) times the sudden narrowing (Crane TP-410, sheet A-26, from memory).
 */
export function stepCoefficient(before: number, after: number, length: number): StepCoefficient | null {
  if (before === after) return null
  const areas = (Math.min(before, after) / Math.max(before, after)) ** 2
  const sine = Math.abs(after - before) / 2 / Math.hypot(length, (after - before) / 2)
  const isCone = Math.asin(Math.min(1, sine)) <= Math.PI / 8
  if (after > before) return band('widening', [['Borda–Carnot', (1 - areas) ** 2]], isCone ? 2.6 * sine : 1)
  const sudden = [
    ['Weisbach', 0.5 * (1 - areas)],
    ['Idelchik', 0.5 * (1 - areas) ** 0.75],
  ] as const
  return band('narrowing', sudden, isCone ? 1.6 * sine : 1)
}

function band(
  what: 'widening' | 'narrowing',
  sudden: readonly (readonly [string, number])[],
  coneShare: number,
): StepCoefficient {
  const cone = coneShare < 1 ? [['Crane TP-410', coneShare * sudden[0][1]] as const] : []
  const [low, high] = ends([...cone, ...sudden])
  return { what, atLeast: low[1], atMost: high[1], methods: [low[0], high[0]] }
}
