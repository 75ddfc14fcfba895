import { Button } from 'react-aria-components/Button'
import { Heading } from 'react-aria-components/Heading'
import type { LostWork } from '../../host.ts'
import type { Comparison } from '../state/keeping.ts'
import { useHere, useKeeping } from '../state/context.ts'
import { keepingWords } from '../keepingWords.ts'
import { DialogSheet } from './DialogSheet.tsx'

const words = keepingWords.lost

/** Work that a former window left behind: take it back, look at what differs, discard it, or leave it for later. */
export function LostWorkDialog() {
  const { room } = useHere()
  const lost = useKeeping((state) => state.lost)
  const compared = useKeeping((state) => state.compared)
  const later = () => room.keeping.later()
  return (
    <DialogSheet open={lost.length > 0} onClose={later} role="alertdialog">
      <Heading slot="title">{words.title}</Heading>
      <p>{words.text}</p>
      <ul className="lost-list">
        {lost.map((work, i) => (
          <LostRow key={work.id} work={work} first={i === 0} />
        ))}
      </ul>
      {compared && <Differences compared={compared} />}
      <div className="sheet-buttons">
        <Button className="plain" onPress={later}>
          {words.later}
        </Button>
      </div>
    </DialogSheet>
  )
}

function LostRow({ work, first }: { work: LostWork; first: boolean }) {
  const { keeping } = useHere().room
  return (
    <li className="lost-row">
      <p>
        <span className="lost-name">{work.name}</span>
        <span className="lost-from">{words.from(work.where)}</span>
        <time dateTime={new Date(work.keptAt).toISOString()}>{words.when(work.keptAt)}</time>
      </p>
      <div className="lost-buttons">
        <Button
          className="main"
          autoFocus={first}
          aria-label={words.takeOf(work.name)}
          onPress={() => void keeping.takeUp(work, words.step)}
        >
          {words.take}
        </Button>
        <Button className="plain" aria-label={words.compareOf(work.name)} onPress={() => void keeping.compare(work)}>
          {words.compare}
        </Button>
        <Button className="plain" aria-label={words.discardOf(work.name)} onPress={() => void keeping.discard(work)}>
          {words.discard}
        </Button>
      </div>
    </li>
  )
}

function Differences({ compared: { work, differences } }: { compared: Comparison }) {
  if (differences === null || differences.length === 0)
    return <p role="status">{differences === null ? words.unknown : words.none}</p>
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard
    <section className="lost-differences" tabIndex={0} aria-label={words.differs(work.name)}>
      <table>
        <caption>{words.differs(work.name)}</caption>
        <thead>
          <tr>
            <th scope="col">{words.place}</th>
            <th scope="col">{words.before}</th>
            <th scope="col">{words.after}</th>
          </tr>
        </thead>
        <tbody>
          {differences.map(({ items, field, before, after }) => {
            const place = words.placeOf(items, field)
            return (
              <tr key={place}>
                <th scope="row">{place}</th>
                <td>{valueText(before)}</td>
                <td>{valueText(after)}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </section>
  )
}

const valueText = (value: string | true | null): string =>
  value === null ? words.absent : value === true ? words.present : value
