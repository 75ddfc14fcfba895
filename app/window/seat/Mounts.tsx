import type { MountsJudged } from '../../../core/seat/mountsJudged.ts'
import { jointSentences, jointsToTell } from '../../wording/mountWords.ts'
import { keepOutName, partName } from '../ledger/names.ts'
import { useWindow } from '../state/context.ts'
import { mountsIn } from '../state/seat.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { words } from '../words.ts'

const { mounts: text } = words.seat
type Mount = MountsJudged['mounts'][number]

const verdictOf: Record<Mount['verdict'], string> = {
  'goes on': 'clears',
  'goes on by root-sum-square': 'unproved',
  'does not go on': 'short',
}

/** Whether brackets and pins go on with all tolerances, and what to measure or make better where they do not. */
export function Mounts() {
  const judged = useWindow(mountsIn)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  if (!judged || judged.mounts.length === 0) return null
  const fixingName = (id: string) => bay?.fixings?.find((fixing) => fixing.id === id)?.name ?? id
  const obstacle = (name: string) =>
    candidate && /^(core|tank|stub|pipe|mount|coupler|clamp)/.test(name) && !bay?.keepOuts.some(({ id }) => id === name)
      ? partName(candidate, name)
      : keepOutName(bay, name)
  const names = { fixing: fixingName, obstacle }
  return (
    <section className="seat-mounts" aria-label={text.title}>
      <header className="pipe-part-head">
        <h3>{text.title}</h3>
      </header>
      <ul>
        {judged.mounts.map((mount) => {
          const { mark, text: said } = text.verdict[mount.verdict]
          const told = jointsToTell(mount.joints)
          return (
            <li key={mount.mount} className="seat-mount">
              <p>
                <b>{mount.name}</b>{' '}
                <span className={`verdict-${verdictOf[mount.verdict]}`}>
                  <span aria-hidden="true">{mark}</span> {said}
                </span>
              </p>
              {told.map((joint) =>
                jointSentences(joint, names, units).map((each) => (
                  <p key={`${joint.fixing} ${each}`} className="pipe-small">
                    {each}
                  </p>
                )),
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}
