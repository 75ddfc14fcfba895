import { useMemo } from 'react'
import { useStore } from 'zustand'
import { pointsOf } from '../pipes/run.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bendsOf, pipeIn, remarksOf, shownBends, stageIn } from '../state/pipes.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { onScreen } from './camera.ts'
import { CornerHandles } from './CornerHandles.tsx'
import type { Point } from './dimension.ts'
import type { Box } from './labels.ts'
import { PipeMarks } from './PipeMarks.tsx'

/** Over the drawing in the Pipes stage: the pipe's centreline with its corners to take hold of, and what is wrong where. */
export function PipeLayer() {
  const stage = useWindow(stageIn)
  const pipe = useWindow(pipeIn)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const answer = useWindow(shownBends)
  const view = useWindow((state) => state.view)
  const { eye } = useHere()
  const rig = useStore(eye.store, (state) => state.rigs[view])
  const frame = useStore(eye.store, (state) => state.frame)
  const points = useMemo(
    () => (bay && candidate && pipe ? pointsOf(bay, candidate, pipe) : null),
    [bay, candidate, pipe],
  )
  if (stage !== 'pipes' || !pipe || !points) return null
  const remarks = remarksOf(bendsOf(answer, pipe))
  const reasons = bendsOf(answer, pipe)?.reasons.length ?? 0
  const places = points.map((point) => onScreen(point, rig, frame))
  return (
    <>
      <svg className="overlay" width={frame.width} height={frame.height} aria-hidden="true">
        <polyline className="pipe-line" points={places.map((place) => place.join()).join(' ')} />
      </svg>
      <PipeMarks remarks={remarks} reasons={reasons} thing={around(places)} rig={rig} frame={frame} />
      <CornerHandles key={`${candidate?.id} ${pipe.id}`} pipe={pipe} points={points} rig={rig} frame={frame} />
    </>
  )
}

/** The picture of a pipe with what is drawn about it: its thickness, handles, numbers, pixels. */
function around(places: readonly Point[]): Box {
  const [xs, ys] = [places.map(([x]) => x), places.map(([, y]) => y)]
  return {
    left: Math.min(...xs) - 40,
    top: Math.min(...ys) - 40,
    right: Math.max(...xs) + 40,
    bottom: Math.max(...ys) + 40,
  }
}
