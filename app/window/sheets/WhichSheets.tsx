import { Checkbox } from 'react-aria-components/Checkbox'
import { CheckboxGroup } from 'react-aria-components/CheckboxGroup'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { type SheetId, sheetIds } from '../../sheet/sheet.ts'
import { useHere, useSheets } from '../state/context.ts'
import { words } from '../words.ts'

const { wish: text } = words.sheets

/** Which sheets the set has; one at least. */
export function WhichSheets() {
  const { room } = useHere()
  const sheets = useSheets(({ wish }) => wish.sheets ?? sheetIds)
  const put = (chosen: readonly string[]) => {
    const next: readonly SheetId[] = sheetIds.filter((id) => chosen.includes(id))
    if (next.length > 0) room.sheets.wish({ sheets: next.length === sheetIds.length ? null : next })
  }
  return (
    <CheckboxGroup className="sheets-which" value={[...sheets]} onChange={put}>
      <Label>{text.which}</Label>
      {sheetIds.map((id) => (
        <Checkbox key={id} value={id} className="check" isDisabled={sheets.length === 1 && sheets[0] === id}>
          <span className="check-box" aria-hidden="true" />
          {text.names[id]}
        </Checkbox>
      ))}
      {sheets.length === 1 && <Text slot="description">{text.atLeastOne}</Text>}
    </CheckboxGroup>
  )
}
