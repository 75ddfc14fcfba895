import { useSheets } from '../state/context.ts'
import { words } from '../words.ts'
import { PaperWish, TablesWish } from './PaperWish.tsx'
import { SheetsContents } from './SheetsContents.tsx'
import { SheetsOut } from './SheetsOut.tsx'
import { useSheetsStanding } from './useSheetsStanding.ts'
import { WhichSheets } from './WhichSheets.tsx'

/** Beside the pages: what they are to be, where each begins, and the ways out to the shop. */
export function SheetsPanel() {
  const standing = useSheetsStanding()
  const contents = useSheets(({ shown }) => shown?.contents ?? null)
  return (
    <section className="sheets" aria-label={words.sheets.title} data-state={standing}>
      <SheetsOut />
      <SheetsContents contents={contents} />
      <PaperWish />
      <WhichSheets />
      <TablesWish />
    </section>
  )
}
