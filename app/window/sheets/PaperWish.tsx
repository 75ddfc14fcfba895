import { standardScales } from '../../sheet/settings.ts'
import { Picker } from '../editors/Picker.tsx'
import { useHere, useSheets, useWindow } from '../state/context.ts'
import type { SheetsWish } from '../state/sheets.ts'
import { today } from '../seeing/today.ts'
import { words } from '../words.ts'
import { WishText } from './WishText.tsx'

const { wish: text } = words.sheets
const papers = ['A4', 'A3', 'Letter'] as const
const projections = ['first-angle', 'third-angle'] as const
const separators = [',', ';', '\t'] as const
const unitsOf = ['mm', 'inch'] as const
const fits = 'fits'

/** What the sheets are printed on and how they are drawn; none of it belongs to the bay. */
export function PaperWish() {
  const { room } = useHere()
  const wish = useSheets((state) => state.wish)
  const windowUnits = useWindow((state) => state.units)
  const put = <K extends keyof SheetsWish>(name: K, value: SheetsWish[K]) => room.sheets.wish({ [name]: value })
  return (
    <section className="sheets-wish" aria-label={text.title}>
      <h3>{text.title}</h3>
      <Picker
        label={text.paper}
        value={wish.paper}
        choices={papers.map((id) => ({ id, text: id }))}
        onChange={(id) => put('paper', id as SheetsWish['paper'])}
      />
      <Picker
        label={text.units}
        value={wish.units ?? windowUnits}
        choices={unitsOf.map((id) => ({ id, text: text.unitsOf[id] }))}
        onChange={(id) => put('units', id as SheetsWish['units'])}
      />
      <Picker
        label={text.projection}
        value={wish.projection}
        choices={projections.map((id) => ({ id, text: text.projections[id] }))}
        onChange={(id) => put('projection', id as SheetsWish['projection'])}
      />
      <Picker
        label={text.scale}
        value={wish.scale === null ? fits : String(wish.scale)}
        choices={[
          { id: fits, text: text.fits },
          ...standardScales.map((real) => ({ id: String(real), text: text.scaleOf(real) })),
        ]}
        onChange={(id) => put('scale', id === fits ? null : Number(id))}
        explained={text.scaleNote}
      />
      <WishText label={text.revision} value={wish.revision} onChange={(revision) => put('revision', revision)} />
      <WishText
        label={text.date}
        value={wish.date ?? today()}
        fault={(date) => (isDate(date) ? null : text.dateFault)}
        kind="date"
        onChange={(date) => put('date', date === today() ? null : date)}
      />
      <Picker
        label={text.separator}
        value={wish.separator}
        choices={separators.map((id) => ({ id, text: text.separators[id] }))}
        onChange={(id) => put('separator', id as SheetsWish['separator'])}
      />
    </section>
  )
}

const isDate = (written: string): boolean =>
  /^\d{4}-\d\d-\d\d$/.test(written) && !Number.isNaN(Date.parse(`${written}T00:00:00Z`))
