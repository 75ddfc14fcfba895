import packageJson from '../../package.json' with { type: 'json' }
import type { Figure } from '../../core/sheet/figure/figure.ts'
import { type CsvForm, tableCsv } from './csv/tableCsv.ts'
import { figureDxf } from './dxf/figureDxf.ts'
import { candidateGlb } from './model/glb.ts'
import { candidateStl } from './model/stl.ts'
import type { SheetContext } from './context.ts'
import type { SetFile, SheetSettings } from './settings.ts'
import type { Block, Sheet, Table } from './sheet.ts'
import { figureSvgFile } from './svg/figureSvg.ts'
import { utf8 } from './travel.ts'

/** What goes out beside the pages, each from the same data that the pages are laid out from. */
export async function setFiles(
  { facts: { bay, candidate }, things }: SheetContext,
  sheets: readonly Sheet[],
  settings: SheetSettings,
): Promise<SetFile[]> {
  const { units, separator, decimal = '.', mark = false } = settings
  const form: CsvForm = { separator, decimal, mark }
  const blocks = sheets.flatMap((sheet) => sheet.blocks)
  return named([
    ...blocks
      .flatMap(tablesIn)
      .map((table) => ['tables', table.id, 'csv', utf8(tableCsv(table, units, form))] as const),
    ...sheets.flatMap(({ title, blocks: own }) =>
      own.flatMap(figuresIn).map((figure) => {
        const said = [title, `Gapwright ${packageJson.version}`, settings.date, units]
        return [
          'drawings',
          figure.id,
          'svg',
          utf8(figureSvgFile(figure, `${bay.name}: ${candidate.name}`, said)),
        ] as const
      }),
    ),
    ...sheets
      .flatMap(({ flats }) => flats ?? [])
      .map((figure) => ['flats', figure.id, 'dxf', utf8(figureDxf(figure))] as const),
    ['model', candidate.id, 'stl', candidateStl(things)],
    ['model', candidate.id, 'glb', await candidateGlb(things, candidate.name)],
  ])
}

const tablesIn = (block: Block): readonly Table[] => (block.kind === 'table' ? [block.table] : [])

const figuresIn = (block: Block): readonly Figure[] => {
  if (block.kind === 'figure' || block.kind === 'page') return [block.figure]
  return block.kind === 'figures' ? block.items.map(({ figure }) => figure) : []
}

type Unnamed = readonly [folder: string, id: string, extension: string, bytes: Uint8Array]

/** Two of one id are kept apart by a number: no file of a set may replace another. */
function named(files: readonly Unnamed[]): SetFile[] {
  const taken = new Set<string>()
  return files.map(([folder, id, extension, bytes]) => {
    let name = `${folder}/${id}.${extension}`
    for (let n = 2; taken.has(name); n++) name = `${folder}/${id}-${n}.${extension}`
    taken.add(name)
    return { name, bytes }
  })
}
