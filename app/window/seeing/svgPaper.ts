import type { Role } from '../../../core/bay/schema.ts'

/** What a drawing in a file is hatched with; the same ideas as on the screen, in lines of the file. */
export type PaperHatch = Role | 'part' | 'none'

const rising = (step: number, width: number) =>
  `<path d="M0 ${step}L${step} 0M${-step / 4} ${step / 4}L${step / 4} ${-step / 4}M${0.75 * step} ${1.25 * step}L${1.25 * step} ${0.75 * step}" stroke-width="${width}"/>`
const falling = (step: number, width: number) =>
  `<path d="M0 0L${step} ${step}M${-step / 4} ${0.75 * step}L${step / 4} ${1.25 * step}M${0.75 * step} ${-step / 4}L${1.25 * step} ${step / 4}" stroke-width="${width}"/>`

const hatches: Readonly<Record<Exclude<PaperHatch, 'none'>, { readonly step: number; readonly inside: string }>> = {
  body: { step: 10, inside: rising(10, 0.5) },
  service: { step: 9, inside: '<path d="M4.5 0V9" stroke-width="0.5"/>' },
  safety: { step: 10, inside: `${rising(10, 0.5)}<path d="M2.5 10L10 2.5M0 2.5L2.5 0" stroke-width="0.5"/>` },
  lamp: { step: 6, inside: '<circle cx="3" cy="3" r="0.7" fill="#4b4f52" stroke="none"/>' },
  cooling: { step: 6, inside: '<path d="M0 3H6" stroke-width="0.5"/>' },
  moving: { step: 10, inside: rising(10, 0.5).replace('/>', ' stroke-dasharray="5 2.5"/>') },
  hot: { step: 10, inside: rising(10, 0.5) + falling(10, 0.5) },
  part: { step: 6, inside: '<path d="M0 3H6" stroke="#1b4c88" stroke-width="0.35"/>' },
}

/** Patterns of the hatches, for the head of a drawing. */
export const hatchPatterns = (): string =>
  Object.entries(hatches)
    .map(
      ([name, { step, inside }]) =>
        `<pattern id="hatch-${name}" width="${step}" height="${step}" patternUnits="userSpaceOnUse"><g fill="none" stroke="#4b4f52">${inside}</g></pattern>`,
    )
    .join('\n')

/** Three places behind the point at most, and never an exponent. */
export const figure = (value: number): string => String(Math.round(value * 1000) / 1000 + 0)
