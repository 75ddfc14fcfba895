import type { JointAnswer } from '../../../core/pipe/answer.ts'
import { Explained } from '../explain/Explained.tsx'
import { useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { angleOf, lengthOf } from './figures.ts'

const { figures: text } = words.pipes.joint

/** What comes of a joint: gap, offset, angle, how far the hose goes over, and where a tool gets at the clamps. */
export function JointFigures({ joint }: { joint: JointAnswer }) {
  const units = useWindow((state) => state.units)
  const bay = useWindow(bayOf)
  if (joint.kind !== 'coupler') return null
  const length = (mm: number) => lengthOf(mm, units)
  const { gap, offset, angle, movement, insertion, clamps } = joint
  const shown: readonly (readonly [string, string] | null)[] = [
    gap === undefined ? null : [text.gap, length(gap)],
    movement === 0 ? null : [text.movement, `± ${length(movement)}`],
    offset === undefined ? null : [text.offset, length(offset)],
    angle === undefined ? null : [text.angle, `${angleOf(angle)}°`],
    insertion ? [text.port, text.ofNeeded(length(insertion.port), length(insertion.neededPort))] : null,
    insertion ? [text.pipe, text.ofNeeded(length(insertion.pipe), length(insertion.neededPipe))] : null,
  ]
  const clampName = (id: string) => bay?.stock?.clamps?.find((clamp) => clamp.id === id)?.name ?? id
  return (
    <>
      <dl className="pipe-figures">
        {shown
          .filter((pair) => pair !== null)
          .map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>
                <Explained name="joint">{value}</Explained>
              </dd>
            </div>
          ))}
      </dl>
      {clamps.map(({ on, clamp, closesOn, reach }) => (
        <p key={on} className="callout-note">
          {text.closesOn(on, clampName(clamp), length(closesOn))}; {reachText(reach)}.
        </p>
      ))}
    </>
  )
}

/** Where round the hose the screw can stand so that a tool gets at it. */
function reachText(reach: JointAnswer['clamps'][number]['reach']): string {
  if (reach === null) return text.reachUnknown
  if (reach.length === 0) return text.nowhere
  if (reach.some(([from, to]) => to - from >= 360 - 1e-9)) return text.allRound
  return text.reach(reach.map(([from, to]) => text.range(angleOf(from), angleOf(to))).join(', '))
}
