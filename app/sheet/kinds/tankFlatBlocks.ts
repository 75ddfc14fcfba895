import type { Figure } from '../../../core/sheet/figure/figure.ts'
import { type FaceName, flatBodies } from '../../../core/sheet/flat/flatBodies.ts'
import { type TankFlat, tankFlats } from '../../../core/sheet/flat/tankFlats.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { sizeText } from '../../wording/bendFigures.ts'
import { degreesText, listed } from '../../wording/plainWords.ts'
import type { SheetContext } from '../context.ts'
import { standardScales } from '../settings.ts'
import type { Block } from '../sheet.ts'

/** Flat patterns of the end tanks for a shop that folds them: on paper as large as fits, and whole for files. */
export function tankFlatBlocks({ facts: { candidate }, things, units, room }: SheetContext): {
  readonly blocks: readonly Block[]
  readonly flats: readonly Figure[]
} {
  const { width, height } = room('portrait')
  const tanks = tankFlats(flatBodies(candidate, things), {
    units,
    room: { width, height: height - captionRoom },
    scales: standardScales,
    words: {
      fold: (degrees) => `${degreesText(degrees)} back`,
      face: (face) => faceNames[face],
      port: (port, diameter) => `${port}, stub ⌀ ${sizeText(diameter, units)}`,
    },
  })
  if (tanks.length === 0) return { blocks: [], flats: [] }
  return {
    blocks: [
      { kind: 'heading', level: 1, text: 'End tanks laid out flat' },
      { kind: 'text', text: flatText },
      ...tanks.flatMap((tank): Block[] => [
        { kind: 'figure', figure: tank.onPaper, caption: captionOf(tank, units) },
        ...overFoldBlocks(tank),
      ]),
    ],
    flats: tanks.map(({ full }) => full),
  }
}

/** For the words below a pattern, mm: where those above do not fit as well, it goes to the next page rather than to a smaller scale. */
const captionRoom = 16

const tankNames: Readonly<Record<string, string>> = { 'tank-left': 'Left tank', 'tank-right': 'Right tank' }
const faceNames: Readonly<Record<FaceName, string>> = {
  end: 'end',
  front: 'front',
  rear: 'rear',
  below: 'below',
  above: 'above',
  foot: 'foot',
  left: 'left',
  right: 'right',
}

const flatText =
  'Seen from outside: every bend goes away from you, by the angle that the sheet is turned there (0° is flat). The sizes are those ' +
  'of the outside surface, with no bend allowance: the shop sets its own for thickness and tool. The foot, where the tank ' +
  'meets the core, is open; the edges up the corners are seams. The wall is not given in the bay. Holes are where the stub’s ' +
  'outside meets the outside of the sheet, circle or ellipse; their middles are dimensioned square to two edges of the face.'

/** The holes by face too: a small one has no room for words. */
const captionOf = ({ part, holes }: TankFlat, units: PeopleUnits): string =>
  [
    `${tankNames[part] ?? part}.`,
    ...holes.map(
      ({ port, face, diameter }) => `Hole in ${faceNames[face]}: port ${port}, stub ⌀ ${sizeText(diameter, units)}.`,
    ),
  ].join(' ')

function overFoldBlocks({ holes }: TankFlat): Block[] {
  const over = holes.filter(({ overFold }) => overFold).map(({ port }) => `port ${port}`)
  return over.length === 0
    ? []
    : [
        {
          kind: 'text',
          text: `${listed(over)}: the stub reaches over a fold. Its outline in the plane of its face is drawn thin, and is not for cutting: mark the hole from the stub itself.`,
        },
      ]
}
