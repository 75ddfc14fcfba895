import { useWindow } from '../state/context.ts'
import { bayOf, candidateIn, shownLedger } from '../state/windowState.ts'
import { words } from '../words.ts'
import { askedFull } from './figures.ts'
import { keepOutName, partName } from './names.ts'

/** What the ledger does not hold, in words: left out, not routed, exempt. */
export function LedgerNotes() {
  const ledger = useWindow((state) => shownLedger(state)?.ledger ?? null)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  if (!ledger) return null
  const { leftOut, unrouted, exempt } = ledger
  const name = (id: string) =>
    bay?.keepOuts.some((k) => k.id === id || `${k.id}-mirror` === id) ? keepOutName(bay, id) : partName(candidate, id)
  const strong = [
    leftOut.length > 0 && words.ledger.leftOut(leftOut.map((id) => keepOutName(bay, id)).join(', ')),
    unrouted.length > 0 && words.ledger.unrouted(unrouted.map((id) => partName(candidate, `pipe-${id}`)).join(', ')),
  ].filter((text) => typeof text === 'string')
  const plain = exempt.map(({ part, from, length, whole }) =>
    whole
      ? words.ledger.exemptWhole(partName(candidate, part), name(from))
      : words.ledger.exemptOne(partName(candidate, part), name(from), askedFull(length, units)),
  )
  if (strong.length === 0 && plain.length === 0) return null
  return (
    <div className="ledger-notes">
      {strong.map((text) => (
        <p key={text} className="ledger-note-strong">
          {text}
        </p>
      ))}
      {plain.length > 0 && (
        <details>
          <summary>{words.ledger.exemptShort(plain.length)}</summary>
          <p>{words.ledger.exempt(plain.join('; '))}</p>
        </details>
      )}
    </div>
  )
}
