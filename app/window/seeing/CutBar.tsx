import { Button } from 'react-aria-components/Button'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { useStore } from 'zustand'
import { formatLength } from '../../../core/units/lengthText.ts'
import { commandNamed } from '../commands/list.ts'
import { pairNames } from '../ledger/names.ts'
import { useHere, useWindow } from '../state/context.ts'
import { changeCut, cutPair, cutWay } from '../state/seeing.ts'
import { bayOf, candidateIn, selectedPair } from '../state/windowState.ts'
import { words } from '../words.ts'
import type { CutWay } from './seeing.ts'

const text = words.seeing.cut
const ways: readonly CutWay[] = ['along', 'x', 'y', 'z']
/** As far as the slider goes where the bay has no bounds, mm. */
const otherwise = 500

/** Over the drawing while it is cut: which way, how far from the gap, which side, and off. */
export function CutBar() {
  const here = useHere()
  const { store } = here.room
  const cut = useWindow((state) => state.seeing.cut)
  const pair = useWindow(cutPair)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const bounds = useStore(here.room.scene, (scene) => scene.bounds)
  if (!cut || !pair) return null
  const { other, part } = pairNames(bay, candidate, pair)
  const reach = bounds ? Math.ceil(Math.max(...bounds.max.map((x, k) => x - bounds.min[k])) / 2) : otherwise
  const place = cut.offset === 0 ? text.atGap : text.at(formatLength(cut.offset, units, {}))
  const moveTo = (offset: number) => changeCut(store, (now) => ({ ...now, offset }))
  return (
    <section className="cut-bar" aria-label={text.title}>
      <p className="cut-names">{text.through(`${other}, ${part}`)}</p>
      <div className="cut-row">
        <select
          className="cut-way"
          aria-label={text.way}
          value={cut.way}
          onChange={(event) => cutWay(store, event.target.value as CutWay, here.eye.rig(store.getState().view))}
        >
          {ways.map((way) => (
            <option key={way} value={way}>
              {text.ways[way]}
            </option>
          ))}
        </select>
        <Button className="tool" aria-label={text.flip} onPress={() => commandNamed('cut-flip').perform(here)}>
          {text.flipShort}
        </Button>
        <Button className="tool" aria-label={text.off} onPress={() => commandNamed('cut-off').perform(here)}>
          ×
        </Button>
      </div>
      <div className="cut-row">
        <input
          className="seat-slider"
          type="range"
          min={-reach}
          max={reach}
          step={1}
          value={cut.offset}
          aria-label={text.slider}
          aria-valuetext={place}
          onChange={(event) => moveTo(Number(event.target.value))}
        />
        <span className="cut-place">{place}</span>
      </div>
      <p className="look-note">{text.note}</p>
    </section>
  )
}

/** For the chosen row: cuts the drawing there, or takes that cut away. */
export function CutButton() {
  const here = useHere()
  const on = useWindow((state) => {
    const [pair, cut] = [selectedPair(state), cutPair(state)]
    return pair !== null && pair === cut
  })
  const command = commandNamed('cut')
  return (
    <ToggleButton className="small" isSelected={on} onChange={() => command.perform(here)}>
      {text.here}
    </ToggleButton>
  )
}
