import type { PeopleUnits } from '../../core/units/lengthText.ts'

/** What is made as large as can be. */
export type Aim = 'volume' | 'face'

type Rounding = 'down' | 'up'

/** mm³ or mm² in what people use for it: litres and cm², or cubic and square inches. */
const sizes: Record<Aim, Record<PeopleUnits, { readonly millimetres: number; readonly mark: string }>> = {
  volume: { mm: { millimetres: 1e6, mark: 'L' }, inch: { millimetres: 25.4 ** 3, mark: 'in³' } },
  face: { mm: { millimetres: 100, mark: 'cm²' }, inch: { millimetres: 25.4 ** 2, mark: 'in²' } },
}

/** `14.31 L`, `873.2 in³`, `1588 cm²`: about four figures; values round down and bounds up, so that neither claims too much. */
export function amountText(amount: number, aim: Aim, units: PeopleUnits, rounding: Rounding): string {
  const { millimetres, mark } = sizes[aim][units]
  const value = amount / millimetres
  if (!Number.isFinite(value)) return `∞ ${mark}`
  return `${fixed(value, places(value, 4), rounding)} ${mark}`
}

/** A gain, two or three figures of it; too small a one is called nothing. */
export function gainText(gain: number, aim: Aim, units: PeopleUnits): string {
  const { millimetres, mark } = sizes[aim][units]
  const value = gain / millimetres
  const shown = fixed(value, Math.min(places(value, 2), 3), 'down')
  return Number(shown) > 0 ? `${shown} ${mark}` : 'nothing by itself'
}

/** How far a value may be from the best: `0.05 %`, rounded up. */
export const shareText = (share: number): string =>
  Number.isFinite(share)
    ? `${Number(fixed(Math.max(100 * share, 1e-4), Math.min(places(100 * share, 2), 4), 'up'))} %`
    : '∞ %'

const places = (value: number, figures: number): number =>
  Math.max(0, figures - 1 - Math.max(-6, Math.floor(Math.log10(Math.max(Math.abs(value), 1e-6)))))

/** Decimals would tell 0.29 from 0.28999… apart: what is within their dust of a step counts as that step. */
function fixed(value: number, decimals: number, rounding: Rounding): string {
  const steps = value * 10 ** decimals
  const near = Math.round(steps)
  const whole =
    Math.abs(steps - near) <= 1e-9 * Math.max(1, Math.abs(near))
      ? near
      : rounding === 'down'
        ? Math.floor(steps)
        : Math.ceil(steps)
  return (whole / 10 ** decimals).toFixed(decimals)
}
