import { Checkbox } from 'react-aria-components/Checkbox'
import { type SettingsWish, type SheetSettings, standardScales } from '../../sheet/settings.ts'
import { Picker } from '../editors/Picker.tsx'
import { useHere, useSheets, useWindow } from '../state/context.ts'
import { today } from '../../wording/today.ts'
import { words } from '../words.ts'
import { WishText } from './WishText.tsx'

const { wish: text } = words.sheets
const papers = ['A4', 'A3', 'Letter'] as const
const projections = ['first-angle', 'third-angle'] as const
const separators = [',', ';', '\t'] as const
const decimals = ['.', ','] as const
const unitsOf = ['mm', 'inch'] as const
const fits = 'fits'

/** What the sheets are printed on and how they are drawn; none of it belongs to the bay. */
export function PaperWish() {
  const { room } = useHere()
  const settings = useSettings()
  const put = (change: SettingsWish) => room.sheets.wish(change)
  const { paper, units, projection, scale, revision, date } = settings
  return (
    <section className="sheets-wish" aria-label={text.title}>
      <h3>{text.title}</h3>
      <Picker
        label={text.paper}
        value={paper}
        choices={papers.map((id) => ({ id, text: id }))}
        onChange={(id) => put({ paper: id as SheetSettings['paper'] })}
      />
      <Picker
        label={text.units}
        value={units}
        choices={unitsOf.map((id) => ({ id, text: text.unitsOf[id] }))}
        onChange={(id) => put({ units: id as SheetSettings['units'] })}
      />
      <Picker
        label={text.projection}
        value={projection}
        choices={projections.map((id) => ({ id, text: text.projections[id] }))}
        onChange={(id) => put({ projection: id as SheetSettings['projection'] })}
      />
      <Picker
        label={text.scale}
        value={scale === null ? fits : String(scale)}
        choices={[
          { id: fits, text: text.fits },
          ...standardScales.map((real) => ({ id: String(real), text: text.scaleOf(real) })),
        ]}
        onChange={(id) => put({ scale: id === fits ? null : Number(id) })}
        explained={text.scaleNote}
      />
      <WishText label={text.revision} value={revision} onChange={(typed) => put({ revision: typed })} />
      <WishText
        label={text.date}
        value={date}
        fault={(typed) => (isDate(typed) ? null : text.dateFault)}
        kind="date"
        onChange={(typed) => put({ date: typed === today() ? null : typed })}
      />
    </section>
  )
}

/** How the tables go out to spreadsheets, which differ from country to country. */
export function TablesWish() {
  const { room } = useHere()
  const { separator, decimal = '.', mark = false } = useSettings()
  return (
    <section className="sheets-wish" aria-label={text.tables}>
      <h3>{text.tables}</h3>
      <Picker
        label={text.separator}
        value={separator}
        choices={separators.map((id) => ({ id, text: text.separators[id] }))}
        onChange={(id) => room.sheets.wish({ separator: id as SheetSettings['separator'] })}
      />
      <Picker
        label={text.decimal}
        value={decimal}
        choices={decimals.map((id) => ({ id, text: text.decimals[id] }))}
        onChange={(id) => room.sheets.wish({ decimal: id as SheetSettings['decimal'] })}
      />
      <Checkbox className="check" isSelected={mark} onChange={(on) => room.sheets.wish({ mark: on })}>
        <span className="check-box" aria-hidden="true" />
        {text.mark}
      </Checkbox>
    </section>
  )
}

function useSettings(): SheetSettings {
  const { room } = useHere()
  useSheets(({ wish }) => wish)
  // As text: the settings are put together anew each time.
  const now = useWindow(() => JSON.stringify(room.sheets.settings()))
  return JSON.parse(now)
}

const isDate = (written: string): boolean =>
  /^\d{4}-\d\d-\d\d$/.test(written) && !Number.isNaN(Date.parse(`${written}T00:00:00Z`))
