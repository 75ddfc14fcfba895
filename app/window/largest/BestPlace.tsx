import { useEffect, useRef, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Checkbox } from 'react-aria-components/Checkbox'
import type { Candidate } from '../../../core/bay/schema.ts'
import type { PlaceAnswer } from '../../../core/largest/place.ts'
import { faultTexts } from '../../wording.ts'
import { LengthField } from '../editors/LengthField.tsx'
import { Explained } from '../explain/Explained.tsx'
import { gapFull, placeFull } from '../ledger/figures.ts'
import { keepOutName, partName } from '../ledger/names.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { standingOf } from '../state/searches.ts'
import { bayOf, candidateIn, doEdit, type WindowStore } from '../state/windowState.ts'
import { words } from '../words.ts'
import { HoldList } from './HoldList.tsx'

const { best } = words.largest
const axes = ['x', 'y', 'z'] as const

/** For a core of fixed size, the place with the most room all round: asked for beside the numbers of its place. */
export function BestPlace({ candidate, index }: { candidate: Candidate; index: number }) {
  const { room } = useHere()
  const [free, setFree] = useState({ x: true, y: true, z: true })
  const [reach, setReach] = useState(100)
  const [tilt, setTilt] = useState(false)
  const search = useSearches(({ place }) => place)
  const standing = useWindow((state) => standingOf(search, state))
  const limits = candidate.limits?.tilt
  const mayTilt = limits !== undefined && limits.max > limits.min
  const working = search.running !== null
  const outcome = standing === 'fresh' ? search.found?.outcome : undefined
  return (
    <section className="best" aria-label={best.title}>
      <fieldset className="best-free">
        <legend>{best.free}</legend>
        {axes.map((axis, k) => (
          <Check
            key={axis}
            label={best.axes[k]}
            isOn={free[axis]}
            onChange={(on) => setFree((all) => ({ ...all, [axis]: on }))}
          />
        ))}
        {mayTilt && <Check label={best.tilt} isOn={tilt} onChange={setTilt} />}
      </fieldset>
      <div className="best-ask">
        <LengthField label={best.reach} value={reach} onChange={setReach} />
        <Button
          className="plain"
          isDisabled={!(free.x || free.y || free.z || (mayTilt && tilt)) || working}
          onPress={() => room.searches.seek('place', { free, reach, tilt: mayTilt && tilt })}
        >
          {best.find}
        </Button>
      </div>
      {working && (
        <p className="best-working">
          <span role="status">{words.largest.working}</span>
          <Button className="small" onPress={() => room.searches.cancel('place')}>
            {words.largest.cancel}
          </Button>
        </p>
      )}
      {outcome?.ok === false && (
        <div className="largest-faults" role="alert">
          {faultTexts(outcome.faults).map((text) => (
            <p key={text}>{text}</p>
          ))}
        </div>
      )}
      {outcome?.ok && !working && <Found answer={outcome.value} index={index} />}
    </section>
  )
}

function Check({ label, isOn, onChange }: { label: string; isOn: boolean; onChange: (on: boolean) => void }) {
  return (
    <Checkbox className="check" isSelected={isOn} onChange={onChange}>
      <span className="check-box" aria-hidden="true" />
      {label}
    </Checkbox>
  )
}

function Found({ answer, index }: { answer: PlaceAnswer; index: number }) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const { at, turn, holds, stopped } = answer
  const tilted = turn[1] === candidate?.turn[1] ? '' : words.largest.tilted(turn[1].toFixed(2))
  const label = answer.answer === 'clears' ? best.holds : best.conflict
  const element = useRef<HTMLDivElement>(null)
  useEffect(() => {
    element.current?.scrollIntoView({ block: 'nearest' })
  }, [])
  return (
    <div ref={element} className="best-found" role="status">
      <p>
        <Explained name="bestPlace">{verdictText(answer, (mm) => gapFull(mm, units))}</Explained>
      </p>
      {(stopped === 'cancelled' || stopped === 'work') && <p>{best.stopped}</p>}
      <p className="best-at">
        {best.at(at.map((mm) => placeFull(mm, units)).join(', '))}
        {tilted}
      </p>
      {holds.length > 0 && (
        <>
          <h4>{label}</h4>
          <HoldList
            label={label}
            rows={holds.map(({ keepOut, part }) => ({
              key: `${keepOut} ${part}`,
              title: `${keepOutName(bay, keepOut)} ${words.ledger.to} ${partName(candidate, part)}`,
              lights: [`keepOut ${keepOut}`, `part ${part}`],
            }))}
          />
        </>
      )}
      <Button className="plain" onPress={() => moveThere(room.store, index, answer)}>
        {best.move}
      </Button>
      {candidate?.pipes?.some(({ path }) => path.length > 0) && <p className="callout-note">{best.pipes}</p>}
    </div>
  )
}

/** What the answer proves, margins in words. */
export function verdictText({ answer, margin }: PlaceAnswer, length: (mm: number) => string): string {
  const [least, most] = [length(margin.atLeast), length(margin.atMost)]
  if (answer === 'clears') return best.clears(least, most)
  return answer === 'none clears' ? best.noneClears(most) : best.noneFound(least, most)
}

/** One step; corners of pipes follow their ports, as when the place is typed. */
function moveThere(store: WindowStore, index: number, { at, turn }: PlaceAnswer): void {
  doEdit(store, {
    name: 'best-place',
    label: best.moved,
    undo: 'step',
    apply: (bay) =>
      withField(withField(bay, ['candidates', index, 'at'], [...at]), ['candidates', index, 'turn'], [...turn]),
  })
}
