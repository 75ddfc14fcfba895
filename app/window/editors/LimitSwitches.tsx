import type { Candidate } from '../../../core/bay/schema.ts'
import { withField } from '../state/edit.ts'
import { words } from '../words.ts'
import { EditSwitch } from './EditSwitch.tsx'

/** How far a new region reaches from where the core stands, mm. */
const firstReach = 50

/** Limits that are there or not: a region for the centre, a range of tilt, symmetry. Switched on they begin where the core stands. */
export function LimitSwitches({ candidate, index }: { candidate: Candidate; index: number }) {
  const { at, turn, limits } = candidate
  const region = { min: at.map((x) => x - firstReach), max: at.map((x) => x + firstReach) }
  return (
    <div className="limit-switches">
      <LimitSwitch index={index} name="centre" isOn={limits?.centre !== undefined} value={region} />
      <LimitSwitch
        index={index}
        name="tilt"
        isOn={limits?.tilt !== undefined}
        value={{ min: Math.min(0, turn[1]), max: Math.max(0, turn[1]) }}
      />
      <LimitSwitch index={index} name="symmetric" isOn={limits?.symmetric === true} value={true} />
    </div>
  )
}

interface Props {
  readonly index: number
  readonly name: 'centre' | 'tilt' | 'symmetric'
  readonly isOn: boolean
  readonly value: unknown
}

function LimitSwitch({ index, name, isOn, value }: Props) {
  const { limits } = words.largest
  return (
    <EditSwitch
      isOn={isOn}
      label={(on) => (on ? limits.on(limits[name]) : limits.off(limits[name]))}
      apply={(bay, on) => withField(bay, ['candidates', index, 'limits', name], on ? value : undefined)}
    >
      {limits[name]}
    </EditSwitch>
  )
}
