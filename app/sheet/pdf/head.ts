import type { Content, CustomTableLayout } from 'pdfmake/interfaces'
import type { Figure } from '../../../core/sheet/figure/figure.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { cautions } from '../../wording/cautions.ts'
import type { Projection } from '../context.ts'
import { margins, pointsPerMm } from './page.ts'
import { cropped } from './letters.ts'

/** What every page of a set says of itself. */
export interface PageFacts {
  readonly bay: string
  readonly candidate: string
  readonly revision: string
  /** Of the bay file, hex. */
  readonly sha256: string
  /** Of the program. */
  readonly version: string
  /** YYYY-MM-DD */
  readonly date: string
  readonly units: PeopleUnits
  readonly projection: Projection
}

const projections: Record<Projection, string> = { 'first-angle': 'first angle', 'third-angle': 'third angle' }
const unitWords: Record<PeopleUnits, string> = { mm: 'mm, degrees', inch: 'inch, degrees' }

export const scaleText = ({ paper, real }: { readonly paper: number; readonly real: number }): string =>
  `${paper} : ${real}`

/** The one scale of a sheet's figures; several are told beside each. */
export function scalesText(scales: readonly Figure['scale'][]): string {
  const told = new Set(scales.flatMap((scale) => (scale ? [scaleText(scale)] : [])))
  if (told.size === 0) return 'none'
  return told.size === 1 ? [...told][0] : 'as marked'
}

/** The sheet's title on the left, whose it is on the right. */
export function pageHead(title: string, { bay, candidate }: PageFacts, width: number): Content {
  const right = cropped(`${bay}: ${candidate}`, width * 0.42, 8)
  return {
    margin: [margins.left * pointsPerMm, 7 * pointsPerMm, margins.right * pointsPerMm, 0],
    columns: [
      { text: cropped(title, width * 0.55, 11, true), bold: true, fontSize: 11, width: '*' },
      { text: right, fontSize: 8, alignment: 'right', width: width * 0.42, margin: [0, 2.5, 0, 0] },
    ],
  }
}

const boxed: CustomTableLayout = {
  hLineWidth: () => 0.5,
  vLineWidth: () => 0.5,
  paddingLeft: () => 2.5,
  paddingRight: () => 2.5,
  paddingTop: () => 0.8,
  paddingBottom: () => 0.8,
}

/** Share of the width, name, and text of each field of the foot, two rows of them. */
function fields(facts: PageFacts, scale: string, page: string): (readonly [number, string, string])[][] {
  return [
    [
      [0.35, 'Bay', facts.bay],
      [0.35, 'Candidate', facts.candidate],
      [0.15, 'Revision', facts.revision || '–'],
      [0.15, 'Date', facts.date],
    ],
    [
      [0.2, 'Bay file sha256, first 12', facts.sha256.slice(0, 12)],
      [0.2, 'Made by', `Gapwright ${facts.version}`],
      [0.15, 'Units', unitWords[facts.units]],
      [0.15, 'Views', projections[facts.projection]],
      [0.15, 'Scale', scale],
      [0.15, 'Page', page],
    ],
  ]
}

/** The fields of a drawing's title block (ISO 7200, from memory of which there are), and the cautions below. */
export function pageFoot(facts: PageFacts, scale: string, page: string, width: number): Content {
  const rows = fields(facts, scale, page).map((row): Content => {
    const inner = width - row.length * 5 - (row.length + 1) * 0.5
    return {
      table: {
        widths: row.map(([share]) => share * inner),
        body: [
          row.map(([share, name, text]) => ({
            stack: [
              { text: name, fontSize: 5, color: '#444444' },
              { text: cropped(text, share * inner, 7.5), fontSize: 7.5 },
            ],
          })),
        ],
      },
      layout: boxed,
      margin: [0, 0, 0, -0.5],
    }
  })
  return {
    margin: [margins.left * pointsPerMm, 2 * pointsPerMm, margins.right * pointsPerMm, 0],
    stack: [...rows, { text: cautions, fontSize: 5.8, margin: [0, 2.5, 0, 0] }],
  }
}
