import { idOf } from '../../../core/bay/unlike.ts'
import { pdfName, type SheetSet } from '../../sheet/settings.ts'
import { faultText } from '../../wording.ts'
import type { Here } from '../state/context.ts'
import { faultsOf } from '../state/deskLink.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'

const { out: text } = words.sheets

/** The sheets of the bay as it is, as one PDF, to a place that the user chooses. */
export const saveSheetsPdf = (here: Here): Promise<void> =>
  told(here, text.failed, async ({ pdf }, name) => {
    const given = await here.room.host.saveFile(pdf, `${name}.pdf`)
    return given === null ? null : text.saved(given)
  })

/** The PDF and every other file of the set: as a folder, or packed into one file where none can be written. */
export const saveAllSheets = (here: Here): Promise<void> =>
  told(here, text.failed, async (set, name) => {
    const { host } = here.room
    const files = [{ name: pdfName, bytes: set.pdf }, ...set.files]
    if (!host.chooseFolder || !host.saveFolder) {
      const { packed } = await import('./packed.ts')
      const given = await host.saveFile(await packed(files), `${name}.zip`)
      return given === null ? null : text.savedAll(files.length, given)
    }
    const chosen = await host.chooseFolder(name)
    if (chosen === null || (chosen.taken && !(await mayReplace(here, chosen.name)))) return null
    return text.savedAll(files.length, await host.saveFolder(chosen.token, files))
  })

/** Hands the PDF to whatever prints PDFs here. */
export const printSheets = (here: Here): Promise<void> =>
  told(here, text.notPrinted, async ({ pdf }, name) => {
    await here.room.host.print(pdf, `${name}.pdf`)
    return text.printing
  })

/** Does something with the sheets that are up to date, and says what came of it. */
async function told(
  here: Here,
  failed: string,
  work: (set: SheetSet, name: string) => Promise<string | null>,
): Promise<void> {
  const { sheets } = here.room
  const set = sheets.freshSet()
  if (!set) return
  sheets.store.setState({ said: null })
  try {
    sheets.store.setState({ said: await work(set, setName(here)) })
  } catch (error) {
    const [fault] = faultsOf(error, { code: 'file-unwritable' })
    sheets.store.setState({ said: `${failed} ${faultText(fault)}` })
  }
}

/** Of bay, candidate and revision: a later revision never takes the place of an earlier one. */
function setName({ room }: Here): string {
  const state = room.store.getState()
  const { revision } = room.sheets.settings()
  return [bayOf(state)?.name ?? '', state.candidate ?? '', revision]
    .filter((part) => part !== '')
    .map((part) => idOf(part, []))
    .join('-')
}

const mayReplace = ({ room }: Here, name: string): Promise<boolean> =>
  new Promise((answer) => {
    const answered = (yes: boolean) => {
      room.sheets.store.setState({ taken: null })
      answer(yes)
    }
    room.sheets.store.setState({ taken: { name, answered } })
  })
