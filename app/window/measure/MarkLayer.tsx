import { type KeyboardEvent, useMemo, useRef, useState } from 'react'
import { useStore } from 'zustand'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { useHere, useWindow } from '../state/context.ts'
import { isAway } from '../state/motion.ts'
import { openMarked } from '../state/openPart.ts'
import { stageIn } from '../state/pipes.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { type Frame, onScreen, type Rig } from '../viewport/camera.ts'
import type { Point } from '../viewport/dimension.ts'
import { spread } from '../viewport/spread.ts'
import { translated } from '../viewport/translated.ts'
import { zoomBelow } from '../viewport/zoomBelow.ts'
import { words } from '../words.ts'
import { type Mark, marksIn } from './marks.ts'
import { focusSoon } from './useFresh.ts'
import { useMeasure } from './useMeasure.ts'
import { point } from './usePointing.ts'

const { marks: text } = words.measure
/** Middles of marks are so far apart at least, pixels: each can be met by itself. */
const apart = 24
const none: readonly Mark[] = []
const keyOf = ({ kind, id }: Pick<Mark, 'kind' | 'id'>) => `${kind} ${id}`

/**
 * Over the drawing: openings and ports, mounts and fixings, each as a mark that opens its numbers. The one that is open
 * or pointed at, here or in its list, is lit and named.
 */
export function MarkLayer() {
  const { eye } = useHere()
  const marks = useMarks()
  const view = useWindow((state) => state.view)
  const rig = useStore(eye.store, (state) => state.rigs[view])
  const frame = useStore(eye.store, (state) => state.frame)
  if (marks.length === 0) return null
  const places = marks.map(({ at }) => onScreen(at, rig, frame))
  const knobs = spread(places, apart)
  return (
    <>
      <svg className="overlay place-marks" width={frame.width} height={frame.height} aria-hidden="true">
        {marks.map((mark, i) => (
          <Lines key={keyOf(mark)} mark={mark} stem={[places[i], knobs[i]]} rig={rig} frame={frame} />
        ))}
      </svg>
      <Knobs marks={marks} knobs={knobs} width={frame.width} />
    </>
  )
}

function useMarks(): readonly Mark[] {
  const { room } = useHere()
  const stage = useWindow(stageIn)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  // On its way in the candidate's parts are not where the marks would stand.
  const away = useWindow(isAway)
  const parts = useStore(room.scene, (scene) => scene.parts)
  return useMemo(
    () => (bay ? marksIn(stage, bay, away ? null : candidate, parts) : none),
    [stage, bay, candidate, away, parts],
  )
}

/** Whether a mark is lit: it is open or pointed at. */
const useLit = (key: string): boolean => useMeasure(({ open, pointed }) => open === key || pointed === key)

interface LinesProps {
  readonly mark: Mark
  readonly stem: readonly [Point, Point]
  readonly rig: Rig
  readonly frame: Frame
}

function Lines({ mark, stem: [place, knob], rig, frame }: LinesProps) {
  const isLit = useLit(keyOf(mark))
  const { kind, ring, arrow } = mark
  const at = (spot: Vec3) => onScreen(spot, rig, frame)
  const [from, to] = arrow?.map(at) ?? []
  return (
    <g className={`lines-${kind} ${isLit ? 'lines-lit' : ''}`}>
      {ring.length > 0 && <polygon points={ring.map((spot) => at(spot).join()).join(' ')} />}
      {from && to && <line x1={from[0]} y1={from[1]} x2={to[0]} y2={to[1]} />}
      {place !== knob && <line className="lines-stem" x1={place[0]} y1={place[1]} x2={knob[0]} y2={knob[1]} />}
    </g>
  )
}

interface KnobsProps {
  readonly marks: readonly Mark[]
  readonly knobs: readonly Point[]
  readonly width: number
}

/** One stop of the tabulator key; arrow keys go from mark to mark. */
function Knobs({ marks, knobs, width }: KnobsProps) {
  const [stop, setStop] = useState<string | null>(null)
  const layer = useRef<HTMLDivElement>(null)
  const first = marks.some((mark) => keyOf(mark) === stop) ? stop : keyOf(marks[0])
  const onKeyDown = (event: KeyboardEvent) => {
    const buttons = [...(layer.current?.querySelectorAll<HTMLElement>('.place-mark') ?? [])]
    const to = goOf(event, buttons.indexOf(event.target as HTMLElement), buttons.length)
    if (to === null) return
    buttons[to]?.focus()
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would be a box of its own in the drawing
    <div
      ref={layer}
      className="place-marks-layer"
      role="group"
      aria-label={text.group}
      onWheel={zoomBelow}
      onKeyDown={onKeyDown}
    >
      <p id="mark-keys" className="unseen">
        {text.keys}
      </p>
      {marks.map((mark, i) => (
        <Knob
          key={keyOf(mark)}
          mark={mark}
          at={knobs[i]}
          isStop={keyOf(mark) === first}
          isLeft={knobs[i][0] > width - 260}
          onFocus={() => setStop(keyOf(mark))}
        />
      ))}
    </div>
  )
}

/** The mark that a key goes to, by its number; null where the key says nothing. */
function goOf({ key, ctrlKey, metaKey, altKey }: KeyboardEvent, from: number, count: number): number | null {
  if (ctrlKey || metaKey || altKey) return null
  if (key === 'Home') return 0
  if (key === 'End') return count - 1
  if (key === 'ArrowRight' || key === 'ArrowDown') return (from + 1) % count
  return key === 'ArrowLeft' || key === 'ArrowUp' ? (from - 1 + count) % count : null
}

interface KnobProps {
  readonly mark: Mark
  readonly at: Point
  readonly isStop: boolean
  /** Its name stands at its left. */
  readonly isLeft: boolean
  readonly onFocus: () => void
}

function Knob({ mark, at, isStop, isLeft, onFocus }: KnobProps) {
  const { room } = useHere()
  const key = keyOf(mark)
  const isLit = useLit(key)
  const isOpen = useMeasure((state) => state.open === key)
  // The name of what is open gives way to that of what is pointed at.
  const isNamed = useMeasure(({ open, pointed }) => (pointed ?? open) === key)
  const pointAt = (on: boolean) => () => point(room, key, on)
  const { kind, id, name } = mark
  return (
    <button
      type="button"
      className={`place-mark place-mark-${kind} ${isLit ? 'place-mark-lit' : ''}`}
      tabIndex={isStop ? 0 : -1}
      aria-label={text.mark(words.find.kind[kind], name)}
      aria-describedby="mark-keys"
      aria-current={isOpen || undefined}
      style={{ transform: translated(at) }}
      onPointerEnter={pointAt(true)}
      onPointerLeave={pointAt(false)}
      onFocus={() => {
        onFocus()
        point(room, key, true)
      }}
      onBlur={pointAt(false)}
      onClick={() => {
        openMarked(room, kind, id)
        focusSoon(`[data-row="${key}"] .callout-button`)
      }}
    >
      <span className="place-mark-knob" aria-hidden="true" />
      {isNamed && (
        <span className={`place-mark-name ${isLeft ? 'place-mark-name-left' : ''}`} aria-hidden="true">
          {name}
        </span>
      )}
    </button>
  )
}
