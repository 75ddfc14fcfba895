import { type KeyboardEvent, useEffect, useRef, useState } from 'react'
import { HandleLayer } from '../handles/HandleLayer.tsx'
import { keepOutIdOf } from '../ledger/names.ts'
import { MarkLayer } from '../measure/MarkLayer.tsx'
import { CutBar } from '../seeing/CutBar.tsx'
import { DrawnNote } from '../seeing/DrawnNote.tsx'
import { CandidateTabs } from '../stages/CandidateTabs.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { openPart } from '../state/openPart.ts'
import { bayOf, selectedPair, type ViewName } from '../state/windowState.ts'
import { words } from '../words.ts'
import { flownTo, orbited, panned } from './camera.ts'
import { Easel } from './easel.ts'
import type { Eye } from './eye.ts'
import { insetsOf } from './insets.ts'
import { Overlay } from './Overlay.tsx'
import { PipeLayer } from './PipeLayer.tsx'
import { steer } from './pointer.ts'
import { SmallDrawings } from './SmallDrawings.tsx'
import { ViewTools } from './ViewTools.tsx'

/** The same elements at all times: that the drawing is new draws none of them anew. */
const layers = (
  <>
    <Overlay />
    <PipeLayer />
    <MarkLayer />
    <HandleLayer />
  </>
)
const bars = (
  <>
    <CandidateTabs />
    <ViewTools />
    <CutBar />
  </>
)
const note = <DrawnNote />

/** The drawing: one canvas that a worker draws on, with dimension, axes and small drawings over it. */
export function Viewport() {
  const { room, eye } = useHere()
  const stand = useRef<HTMLDivElement>(null)
  const bar = useRef<HTMLDivElement>(null)
  const [easel, setEasel] = useState<Easel | null>(null)
  const [trouble, setTrouble] = useState<string | null>(null)
  /** Counts up whenever the small drawings are out of date. */
  const [news, setNews] = useState(0)

  useEffect(() => {
    const element = stand.current
    if (!element) return
    const resize = () => {
      const covered = bar.current ? bar.current.offsetTop + bar.current.offsetHeight : 0
      eye.setFrame(insetsOf(element.clientWidth, element.clientHeight, covered))
    }
    resize()
    const observer = new ResizeObserver(resize)
    observer.observe(element)
    if (bar.current) observer.observe(bar.current)
    // A canvas is handed to a worker once and for all: each easel has its own.
    const canvas = Object.assign(document.createElement('canvas'), { className: 'viewport-canvas' })
    element.append(canvas)
    const made = new Easel(canvas, room, eye, {
      changed: () => setNews((n) => n + 1),
      lost: (isLost) => setTrouble(isLost ? words.view.lost : null),
      // Nothing of the page depends on it: it is for whoever waits for the drawing.
      busy: (isBusy) => element.toggleAttribute('data-busy', isBusy),
    })
    made.ready.then(
      () => setEasel(made),
      () => setTrouble(words.view.noWebGl),
    )
    return () => {
      observer.disconnect()
      setEasel(null)
      made.dispose()
      canvas.remove()
    }
  }, [room, eye])

  useEffect(() => {
    const element = stand.current
    if (!element || !easel) return
    return steer(
      element,
      eye,
      () => room.store.getState().view,
      (x, y) => void openAt(x, y),
    )
    async function openAt(x: number, y: number) {
      const solid = await easel?.pick(x, y)
      if (!solid) return
      if (solid.side === 'part') openPart(room, solid.key)
      const id = keepOutIdOf(bayOf(room.store.getState()), solid.key)
      if (solid.side === 'keepOut' && id)
        room.store.setState({ stage: 'measure', openItem: { side: 'keepOut', key: id } })
    }
  }, [easel, eye, room])

  useFlights()
  const loaded = useWindow((state) => state.history !== null)
  return (
    <section className="viewport" aria-label={words.view.label}>
      {/* A drawing that is steered by keys of its own: the role hands them through. */}
      <div
        ref={stand}
        className="viewport-stand"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: an application takes the focus for its keys
        tabIndex={0}
        role="application"
        aria-label={words.view.label}
        aria-describedby="view-keys"
        onKeyDown={(event) => onArrow(event, room.store.getState().view, eye)}
      />
      <p id="view-keys" className="unseen">
        {words.view.keys}
      </p>
      {trouble && (
        <p className="viewport-trouble" role="alert">
          {trouble}
        </p>
      )}
      {loaded && layers}
      <div ref={bar} className="drawing-bar">
        {loaded && bars}
      </div>
      {loaded && note}
      {loaded && easel && <SmallDrawings easel={easel} news={news} />}
    </section>
  )
}

/** A bay that is opened is looked at from where all of it is seen; choosing a row flies to its gap. */
function useFlights(): void {
  const { room, eye } = useHere()
  useEffect(() => {
    let seen = 0
    const lookAtAll = () => {
      const { opened, bounds } = room.scene.getState()
      if (opened === seen || !bounds) return
      seen = opened
      eye.fitAll(bounds)
    }
    lookAtAll()
    return room.scene.subscribe(lookAtAll)
  }, [room, eye])
  useEffect(
    () =>
      room.store.subscribe((state, before) => {
        if (state.chosen === before.chosen) return
        const pair = selectedPair(state)
        if (!pair) return
        const { onPart, onKeepOut } = pair
        eye.fly(state.view, (rig, frame) => flownTo(rig, onPart, onKeepOut, frame, state.view === 'space'))
      }),
    [room, eye],
  )
}

const arrowStep = 0.1
const panStep = 40

/** Arrow keys turn, with Shift they move; in front, side and plan they always move. */
function onArrow(event: KeyboardEvent, view: ViewName, eye: Eye): void {
  const ways: Record<string, readonly [number, number]> = {
    ArrowLeft: [-1, 0],
    ArrowRight: [1, 0],
    ArrowUp: [0, -1],
    ArrowDown: [0, 1],
  }
  const way = ways[event.key]
  if (!way || event.ctrlKey || event.metaKey || event.altKey) return
  event.preventDefault()
  const [x, y] = way
  eye.move(view, (rig) =>
    event.shiftKey || view !== 'space'
      ? panned(rig, -x * panStep, -y * panStep)
      : orbited(rig, x * arrowStep, y * arrowStep),
  )
}
