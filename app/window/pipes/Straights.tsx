import type { Pipe } from '../../../core/bay/schema.ts'
import type { PipeBends } from '../../../core/pipe/answer.ts'
import { bendingOf } from '../../../core/pipe/makeable.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { sizeOf, tableLength } from './figures.ts'

const { straights: text } = words.pipes

/** Each straight as a bar, with a tick at what the bender has to hold: left of its end there is enough. */
export function Straights({ bends, pipe, units }: { bends: PipeBends; pipe: Pipe; units: PeopleUnits }) {
  const tool = useWindow((state) => {
    const bay = bayOf(state)
    return bay ? bendingOf(bay, pipe, bends.material).tool : null
  })
  const { straights } = bends
  if (straights.length < 2) return null
  const needs = straights.map((_, i) => {
    if (!tool) return null
    const isEnd = i === 0 || i === straights.length - 1
    return isEnd ? tool.leastEnd : Math.max(tool.leastStraight, tool.grip)
  })
  const longest = Math.max(...straights, ...needs.map((need) => need ?? 0), 1)
  const share = (mm: number) => `${((100 * Math.max(0, mm)) / longest).toFixed(2)}%`
  return (
    <section className="straights" aria-label={text.title}>
      <h3>{text.title}</h3>
      <ul>
        {straights.map((straight, i) => {
          const need = needs[i]
          const isShort = need !== null && straight < need - 1e-6
          const length = tableLength(straight, units)
          const label =
            need === null ? text.labelFree(i + 1, length) : text.label(i + 1, length, sizeOf(need, units), isShort)
          return (
            // Straights have no name but their number.
            // biome-ignore lint/suspicious/noArrayIndexKey: see above
            <li key={i} className={isShort ? 'straight straight-short' : 'straight'} aria-label={label}>
              <span className="straight-number">{i + 1}</span>
              <span className="straight-bar" aria-hidden="true">
                <span className="straight-length" style={{ width: share(straight) }} />
                {need !== null && <span className="straight-need" style={{ left: share(need) }} />}
              </span>
              <span className="straight-figure" aria-hidden="true">
                {isShort && '⚠ '}
                {length}
                {need !== null && <span className="straight-of"> {text.needs(sizeOf(need, units))}</span>}
              </span>
            </li>
          )
        })}
      </ul>
    </section>
  )
}
