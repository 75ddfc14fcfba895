import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import type { Pipe } from '../../../core/bay/schema.ts'
import { along, mix, type Vec3 } from '../../../core/shape/vec.ts'
import { stepOf } from '../editors/quantity.ts'
import { placeFull } from '../ledger/figures.ts'
import { addCorner, moveCorner, newVisit, removeCorner } from '../pipes/cornerEdits.ts'
import { useHere, useWindow } from '../state/context.ts'
import { pipeIn } from '../state/pipes.ts'
import { words } from '../words.ts'
import { type Frame, onScreen, type Rig } from './camera.ts'
import { untilReleased } from '../handles/untilReleased.ts'
import { CornerDrag } from './cornerDrag.ts'
import { keyWay } from './cornerWays.ts'
import { translated } from './translated.ts'
import { zoomBelow } from './zoomBelow.ts'

const { corners: text } = words.pipes

interface Props {
  readonly pipe: Pipe
  /** Ends and corners, bay frame. */
  readonly points: readonly Vec3[]
  readonly rig: Rig
  readonly frame: Frame
}

/** Which corner is in the hand, and where. */
interface Live {
  readonly corner: number
  readonly at: Vec3
}

/** The corners of the pipe to take hold of, and a small plus on every leg to pull a new one out of it. */
export function CornerHandles({ pipe, points, rig, frame }: Props) {
  const { room } = useHere()
  const [live, setLive] = useState<Live | null>(null)
  const drag = useDrag(rig, setLive)
  const layer = useRef<HTMLDivElement>(null)
  const legs = points.slice(1).map((point, i) => onScreen(mix(points[i], point, 0.5), rig, frame))
  /** Corners are counted anew when one comes or goes: the focus goes on to the one of that number. */
  const focus = (corner: number) =>
    requestAnimationFrame(() => {
      const handles = layer.current?.querySelectorAll<HTMLButtonElement>('.corner-handle') ?? []
      handles[Math.min(corner, handles.length - 1)]?.focus()
    })
  return (
    <div ref={layer} className="corner-handles" data-dragging={live !== null || undefined} onWheel={zoomBelow}>
      <p id="corner-keys" className="unseen">
        {text.handleKeys}
      </p>
      {legs.map((at, i) => (
        <button
          // Legs have no name but their number.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={i}
          type="button"
          className="leg-handle"
          // By keyboard a corner is added from the one beside it, or in the list.
          tabIndex={-1}
          aria-label={text.addHandle(i + 1)}
          style={{ transform: translated(at) }}
          onPointerDown={(event) => {
            if (event.button !== 0) return
            const middle = mix(points[i], points[i + 1], 0.5).map((mm) => Math.round(mm) + 0) as unknown as Vec3
            const before = room.store.getState().history
            const visit = newVisit()
            if (addCorner(room.store, i, middle, visit)) drag.begin(event, i, middle, before, visit)
          }}
        >
          +
        </button>
      ))}
      {pipe.path.map((corner, i) => (
        <Handle
          // biome-ignore lint/suspicious/noArrayIndexKey: corners have no name but their number
          key={i}
          number={i}
          pipe={pipe}
          at={live?.corner === i ? live.at : corner}
          isLive={live?.corner === i}
          rig={rig}
          frame={frame}
          onPress={(event) => drag.begin(event, i, corner)}
          onGone={() => focus(i)}
          onAdded={() => focus(i + 1)}
        />
      ))}
    </div>
  )
}

/** Follows the pointer from press to release; Escape gives the drag up. */
function useDrag(rig: Rig, show: (live: Live | null) => void) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const end = useRef<(() => void) | null>(null)
  useEffect(() => () => end.current?.(), [])
  const begin = (
    event: PointerEvent<HTMLElement>,
    corner: number,
    from: Vec3,
    before = room.store.getState().history,
    visit?: number,
  ) => {
    if (event.button !== 0 || end.current) return
    const { currentTarget: element, pointerId } = event
    const drag = new CornerDrag(
      { store: room.store, corner, from, rig },
      [event.clientX, event.clientY],
      before,
      (at) => show(at && { corner, at }),
      visit,
    )
    const pipe = pipeIn(room.store.getState())
    room.store.setState({ corner, held: pipe && { side: 'part', key: `pipe-${pipe.id}` } })
    const move = (moved: globalThis.PointerEvent) => {
      const step = stepOf('length', units, moved.altKey ? 'fine' : 'plain')
      drag.move(moved.clientX, moved.clientY, { oneAxis: moved.shiftKey, step })
    }
    end.current = untilReleased(element, pointerId, move, (how) => {
      end.current = null
      room.store.setState({ corner: null, held: null })
      drag[how]()
    })
  }
  return { begin }
}

interface HandleProps {
  readonly number: number
  readonly pipe: Pipe
  readonly at: Vec3
  readonly isLive: boolean
  readonly rig: Rig
  readonly frame: Frame
  readonly onPress: (event: PointerEvent<HTMLElement>) => void
  readonly onGone: () => void
  readonly onAdded: () => void
}

function Handle({ number, pipe, at, isLive, rig, frame, onPress, onGone, onAdded }: HandleProps) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const pointed = useWindow((state) => state.corner)
  const visit = useRef(0)
  const place = at.map((mm) => placeFull(mm, units))
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey) return
    const way = keyWay(event.key, rig)
    if (way) {
      const size = event.shiftKey ? 'coarse' : event.altKey ? 'fine' : 'plain'
      const to = along(at, way, stepOf('length', units, size)).map((mm) => Math.round(mm * 1e9) / 1e9 + 0)
      moveCorner(room.store, number, to as unknown as Vec3, visit.current)
    } else if (event.key === 'Delete') removeCorner(room.store, number) && onGone()
    else if (event.key === 'Insert') addCorner(room.store, number + 1) && onAdded()
    else return
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    <button
      type="button"
      className={`corner-handle ${pointed === number ? 'corner-handle-now' : ''}`}
      aria-label={text.handle(number + 1, pipe.name, place.join(', '))}
      aria-roledescription={text.handleRole}
      aria-describedby="corner-keys"
      style={{ transform: translated(onScreen(at, rig, frame)) }}
      onPointerDown={onPress}
      onKeyDown={onKeyDown}
      onFocus={() => {
        visit.current = newVisit()
        room.store.setState({ corner: number })
      }}
      onBlur={() => room.store.setState({ corner: null })}
    >
      <span className="corner-knob" aria-hidden="true" />
      <span className="corner-name" aria-hidden="true">
        {isLive || pointed === number ? `${number + 1}  ${place.join('  ')}` : number + 1}
      </span>
    </button>
  )
}
