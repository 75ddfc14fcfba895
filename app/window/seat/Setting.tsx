import { keepOutName, partName } from '../ledger/names.ts'
import { useWindow } from '../state/context.ts'
import { settingIn } from '../state/seat.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { words } from '../words.ts'

const { standing: text } = words.seat

/** What comes off for the way in and what stays, what goes in together, and what is put on after. */
export function Setting() {
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const setting = useWindow(settingIn)
  if (!setting) return null
  const keepOuts = (ids: readonly string[]) => ids.map((id) => keepOutName(bay, id))
  const parts = (names: readonly string[]) => names.map((name) => partName(candidate, name))
  const { off, stays, leftOut, withPart, after, exempt } = setting
  const rows: readonly (readonly [string, readonly string[]])[] = [
    [text.off, keepOuts(off)],
    [text.stays, keepOuts(stays)],
    [text.leftOut, keepOuts(leftOut)],
    [text.withPart, parts(withPart)],
    // Couplers and clamps are put on with their pipe.
    [text.after, parts(after.filter((name) => !/^(coupler|clamp)-/.test(name)))],
    [
      text.exempt,
      exempt.map(({ part, keepOut }) => text.against(partName(candidate, part), keepOutName(bay, keepOut))),
    ],
  ]
  return (
    <section className="seat-setting" aria-label={text.title}>
      <header className="pipe-part-head">
        <h3>{text.title}</h3>
      </header>
      <dl>
        {rows
          .filter(([name, list]) => list.length > 0 || name === text.off)
          .map(([name, list]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{list.length > 0 ? list.join(', ') : text.none}</dd>
            </div>
          ))}
      </dl>
    </section>
  )
}
