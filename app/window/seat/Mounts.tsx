import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import type { MountsJudged } from '../../../core/seat/mountsJudged.ts'
import { askedFull, gapFull } from '../ledger/figures.ts'
import { keepOutName, partName } from '../ledger/names.ts'
import { useWindow } from '../state/context.ts'
import { mountsIn } from '../state/seat.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { words } from '../words.ts'

const { mounts: text } = words.seat
type Mount = MountsJudged['mounts'][number]
type Joint = Mount['joints'][number]

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
  return (
    <section className="seat-mounts" aria-label={text.title}>
      <header className="pipe-part-head">
        <h4>{text.title}</h4>
      </header>
      <ul>
        {judged.mounts.map((mount) => {
          const { mark, text: said } = text.verdict[mount.verdict]
          const worst = worstOf(mount)
          return (
            <li key={mount.mount} className="seat-mount">
              <p>
                <b>{mount.name}</b>{' '}
                <span className={`verdict-${verdictOf[mount.verdict]}`}>
                  <span aria-hidden="true">{mark}</span> {said}
                </span>
              </p>
              {worst && <p className="pipe-small">{jointText(worst, fixingName, units)}</p>}
              {worst && adviceOf(worst, fixingName, units).map((each) => <p key={each}>{each}</p>)}
              {mount.joints
                .filter(({ reach }) => reach && !reach.clear)
                .map(({ fixing, reach }) => (
                  <p key={fixing}>
                    {text.noReach(
                      fixingName(fixing),
                      reach?.closedBy.map(({ name }) => obstacle(name)).join(', ') ?? '',
                    )}
                  </p>
                ))}
            </li>
          )
        })}
      </ul>
    </section>
  )
}

const worstOf = ({ joints }: Mount): Joint | null =>
  joints.reduce<Joint | null>(
    (worst, joint) => (worst === null || joint.spare.worstCase < worst.spare.worstCase ? joint : worst),
    null,
  )

function jointText({ fixing, hindrance, spare }: Joint, name: (id: string) => string, units: PeopleUnits): string {
  if (hindrance) return text.hindrance(name(fixing), hindrance)
  return text.spare(name(fixing), gapFull(spare.worstCase, units), gapFull(spare.rootSumSquare, units))
}

/** What to better first, and the hole that would do. */
function adviceOf({ verdict, improve, needs, hindrance }: Joint, fixing: (id: string) => string, units: PeopleUnits) {
  if (verdict === 'goes on') return []
  const what = improve && text.of[improve.of](improve.of === 'fixing' ? fixing(improve.name) : improve.name)
  const [from, to] = improve ? [askedFull(improve.from, units), gapFull(improve.to, units)] : ['', '']
  return [
    ...(what && improve ? [improve.enough ? text.improve(what, from, to) : text.improveMost(what, from)] : []),
    ...(hindrance === null ? [text.needsHole(askedFull(needs.hole, units))] : []),
  ]
}
