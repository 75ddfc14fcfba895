import type { Range } from './sheetFacts.ts'

type Density = Range & { readonly source: string }

const textbook = 'after W. D. Callister, Materials Science and Engineering, table B.1'
const trade = 'tables of densities of metals and alloys'
const memory = 'makers’ data, from memory'

interface Family {
  readonly words: RegExp
  /** Where one of these is written too, it is that material and not this one. */
  readonly unless?: RegExp
  readonly density: Density
  /** Narrower where the grade is written. */
  readonly grades?: readonly { readonly words: RegExp; readonly density: Density }[]
}

/** kg/m³, with room for what a name leaves open: an alloy of a series, wrought or cast. */
const families: readonly Family[] = [
  {
    words: /\balumin(i)?um\b|\ben aw-?\s?\d{4}\b/,
    unless: /\bcast(ing)?\b/,
    density: { atLeast: 2640, atMost: 2830, source: textbook },
    grades: [{ words: /\b6\d{3}\b/, density: { atLeast: 2690, atMost: 2720, source: textbook } }],
  },
  {
    words: /\balumin(i)?um\b.*\bcast(ing)?\b|\bcast\b.*\balumin(i)?um\b/,
    density: { atLeast: 2560, atMost: 2800, source: trade },
  },
  {
    words: /\bstainless\b|\b1\.4\d{3}\b/,
    density: { atLeast: 7650, atMost: 8000, source: textbook },
    grades: [
      { words: /\b1\.4[345]\d{2}\b|\b3(04|16|21)l?\b/, density: { atLeast: 7900, atMost: 8000, source: textbook } },
    ],
  },
  {
    words: /\bsteel\b/,
    unless: /\bstainless\b|\b1\.4\d{3}\b/,
    density: { atLeast: 7830, atMost: 7870, source: textbook },
  },
  { words: /\btitanium\b/, density: { atLeast: 4420, atMost: 4540, source: trade } },
  { words: /\bbrass\b/, density: { atLeast: 8390, atMost: 8730, source: trade } },
  { words: /\bcopper\b/, density: { atLeast: 8890, atMost: 8960, source: trade } },
  { words: /\bmagnesium\b/, density: { atLeast: 1740, atMost: 1870, source: trade } },
  { words: /\bsilicone\b/, density: { atLeast: 1100, atMost: 1800, source: memory } },
]

/**
 * Density of a material as a bay writes it, kg/m³: a range that holds what the name leaves open.
 * @returns null where no material is known by that name, or more than one is (`aluminium bronze`, `steel and silicone`):
 *   never a guess. A bare number of an alloy (`6061`, `4130`) names none: series of two metals share such numbers.
 * Source: beside each. The textbook's table was seen in extracts (steel 7850; 304, 316 8000; 405 7800; 17-7PH 7650; 1100 2710; 6061
 * 2700; 7075 2800); ends of ranges are widened by tables of the trade (aluminium 360 2640, 6061 2720, 7178 2830; steel 1006 7872;
 * cartridge brass 8530, Muntz metal 8390; titanium 4510, its alloy 6-4 4430; light alloys of aluminium 2560 to 2800).
 */
export function densityOf(material: string): Density | null {
  const name = material.toLowerCase()
  if (/\bbronze\b|\bfoam\b|\bclad\b|\bmesh\b/.test(name)) return null
  const found = families.filter(({ words, unless }) => words.test(name) && !unless?.test(name))
  if (found.length !== 1) return null
  const [{ density, grades = [] }] = found
  return grades.find(({ words }) => words.test(name))?.density ?? density
}
