import type { PipeReason } from '../../core/pipe/answer.ts'
import { formatGap, formatLength, formatUncertainty, type PeopleUnits } from '../../core/units/lengthText.ts'

/** Figures as people read them: hundredths of a millimetre or thousandths of an inch. */
export interface Figures {
  /** As it stands in the bay. */
  readonly size: (value: unknown) => string
  /** Too little of something: never more than there is. */
  readonly little: (value: unknown) => string
  /** What is missing or too much: never less than there is. */
  readonly much: (value: unknown) => string
  /** A list of sizes. */
  readonly sizes: (value: unknown) => string
}

export function figuresIn(units: PeopleUnits): Figures {
  const format = { decimals: units === 'mm' ? 2 : 3, passDust: true }
  const size = (value: unknown) => formatLength(Number(value), units, format)
  return {
    size,
    little: (value) => formatGap(Number(value), units, format),
    much: (value) => formatUncertainty(Number(value), units, format),
    sizes: (value) =>
      String(value)
        .split(', ')
        .map(size)
        .join(', ')
        .replace(/, (?=[^,]*$)/, ' and '),
  }
}

/** Hundredths of a degree; angles that are too large are rounded up. */
export const degrees = (value: unknown): string => `${Number(Number(value).toFixed(2))}°`
export const degreesUp = (value: unknown): string =>
  `${Number((Math.ceil(Number(value) * 100 - 1e-6) / 100).toFixed(2))}°`
export const percent = (value: unknown): string => `${Math.ceil(Number(value) * 100 - 1e-6)} %`

export type Sentence = (reason: PipeReason, figures: Figures) => string

/** What lacks of what is expected. */
export const lack = ({ expected, got }: PipeReason): number => Number(expected) - Number(got)
