import type { PipeBends } from '../../../core/pipe/answer.ts'
import type { Piece } from '../../../core/shape/form.ts'
import type { Figure } from '../../../core/sheet/figure/figure.ts'
import { spreadFigure } from '../../../core/sheet/flat/spreadFigure.ts'
import { type PlaneRun, planeRuns } from '../../../core/sheet/template/planeRun.ts'
import {
  fitsOnePage,
  templatePages,
  templateWhole,
  type TemplateWords,
} from '../../../core/sheet/template/templatePages.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { sizeText, tableLength, turnText } from '../../wording/bendFigures.ts'
import { called } from '../../wording/called.ts'
import { counted } from '../../wording/plainWords.ts'
import type { SheetContext } from '../context.ts'
import { roomOf } from '../pdf/page.ts'
import type { Block } from '../sheet.ts'
import { barWords } from './fullSize.ts'

export interface PipeTemplates {
  /** What there is, and how it is used. */
  readonly blocks: readonly Block[]
  readonly pages: readonly Block[]
  /** Whole, for files. */
  readonly flats: readonly Figure[]
}

/** Full-size check templates of a pipe: one for each run of bends in one plane. */
export function pipeTemplates(
  { units, paper, room }: SheetContext,
  pipe: PipeBends,
  centreline: readonly Piece[],
): PipeTemplates {
  const runs = planeRuns(centreline, pipe.outsideDiameter)
  if (runs.length === 0) return { blocks: [], pages: [], flats: [] }
  const words = wordsIn(units)
  const made = runs.map((run) => {
    const id = `template-${pipe.id}-${rangeId(run)}`
    const { orientation, pages } = templatePages(id, run, room, words)
    const larger = pages.length > 1 && paper !== 'A3' && fitsOnePage(run, roomOf('A3'), words)
    return { run, id, orientation, pages, larger }
  })
  const said = made.map(({ run, pages, larger }) => {
    const fits =
      pages.length === 1 ? `one page of ${paper}` : `${counted(pages.length, 'page')} of ${paper} to be joined`
    return `${rangeText(run)}: ${fits}${larger ? '; ask for A3 and it is one page' : ''}.`
  })
  return {
    blocks: [
      { kind: 'heading', level: 2, text: 'Check templates, full size' },
      { kind: 'text', text: usingText },
      { kind: 'list', items: said },
    ],
    pages: made.flatMap(({ run, orientation, pages }) =>
      pages.map(
        ({ figure }): Block => ({
          kind: 'page',
          figure,
          orientation,
          title: `${called('Pipe', pipe.name)}, check template, ${rangeText(run).toLowerCase()}`,
        }),
      ),
    ),
    flats: made.map(({ run, id }) => spreadFigure(id, templateWhole(run, words))),
  }
}

const usingText =
  'One for each plane in which bends follow each other. Print at 100 % and measure the bar first. Lay the tube on its template: ' +
  'both sides, the ends and the marks where bends begin and end must agree. Arrows show the way from start to end. Seen as ' +
  'printed, the first bend of each template turns left; the straight to a bend in another plane is on both templates.'

const rangeText = ({ bends }: PlaneRun): string =>
  bends.length === 1 ? `Bend ${bends[0].number}` : `Bends ${bends[0].number} to ${bends[bends.length - 1].number}`
const rangeId = ({ bends }: PlaneRun): string =>
  [...new Set([bends[0].number, bends[bends.length - 1].number])].join('-')

const wordsIn = (units: PeopleUnits): TemplateWords => ({
  bend: ({ number, angle, radius }) => [`bend ${number}`, turnText(angle), `R ${sizeText(radius, units)}`],
  straight: (mm) => tableLength(mm, units),
  begin: 'start',
  end: 'end',
  from: (bend) => `bend ${bend}`,
  onTo: (bend) => `bend ${bend}`,
  page: (row, column) => `row ${row}, column ${column}`,
  bar: barWords,
})
