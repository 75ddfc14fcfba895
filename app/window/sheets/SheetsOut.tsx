import { Button } from 'react-aria-components/Button'
import { Heading } from 'react-aria-components/Heading'
import { commandNamed } from '../commands/list.ts'
import { DialogSheet } from '../stages/DialogSheet.tsx'
import { useHere, useSearches, useSheets } from '../state/context.ts'
import { words } from '../words.ts'
import { useSheetsStanding } from './useSheetsStanding.ts'

const { out: text } = words.sheets

/** The ways out of the program: one PDF, all files, paper. */
export function SheetsOut() {
  const here = useHere()
  const isFresh = useSheetsStanding() === 'fresh'
  const said = useSheets((state) => state.said)
  const found = useSearches(({ sheets }) => sheets.found)
  const files = found?.outcome.ok ? found.outcome.value.files.length : 0
  const button = (name: string, label: string, look: string) => (
    <Button className={look} isDisabled={!isFresh} onPress={() => commandNamed(name).perform(here)}>
      {label}
    </Button>
  )
  return (
    <section className="sheets-out" aria-label={text.title}>
      <h3>{text.title}</h3>
      <div className="sheets-buttons">
        {button('sheets-pdf', text.pdf, 'main')}
        {button('sheets-all', text.all, 'plain')}
        {button('sheets-print', text.print, 'plain')}
      </div>
      {files > 0 && <p className="sheets-note">{text.note(files)}</p>}
      <p className="sheets-said" role="status">
        {said}
      </p>
      <TakenDialog />
    </section>
  )
}

/** Before files of the same names are written over. */
function TakenDialog() {
  const taken = useSheets((state) => state.taken)
  const answered = (yes: boolean) => taken?.answered(yes)
  return (
    <DialogSheet open={taken !== null} onClose={() => answered(false)} role="alertdialog">
      <Heading slot="title">{text.takenTitle}</Heading>
      <p>{text.taken(taken?.name ?? '')}</p>
      <div className="sheet-buttons">
        <Button className="main" autoFocus onPress={() => answered(false)}>
          {text.keep}
        </Button>
        <Button className="plain" onPress={() => answered(true)}>
          {text.replace}
        </Button>
      </div>
    </DialogSheet>
  )
}
