import { Button } from 'react-aria-components/Button'
import { useHere, useSheets } from '../state/context.ts'
import { words } from '../words.ts'
import type { Contents } from './zoom.ts'

const { contents: text } = words.sheets

/** The sheets with the page that each begins on; choosing one goes there. */
export function SheetsContents({ contents }: { contents: Contents | null }) {
  const { room } = useHere()
  const page = useSheets((state) => state.page)
  if (!contents || contents.marks.length === 0) return null
  const now = contents.marks.findLastIndex((mark) => mark.page <= page)
  return (
    <section className="sheets-contents" aria-label={text.title}>
      <h3>{text.title}</h3>
      <ol>
        {contents.marks.map(({ title, page: at }, i) => (
          <li key={`${at} ${title}`}>
            <Button
              className="sheets-mark"
              aria-current={i === now ? 'location' : undefined}
              onPress={() => room.sheets.turnTo(at)}
            >
              <span>{title}</span>
              <span className="sheets-mark-page">
                <span className="unseen">{text.page(at + 1)}</span>
                <span aria-hidden="true">{at + 1}</span>
              </span>
            </Button>
          </li>
        ))}
      </ol>
    </section>
  )
}
