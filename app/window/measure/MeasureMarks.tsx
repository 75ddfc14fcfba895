import { useStore } from 'zustand'
import { portMark } from '../../../core/bay/portMark.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { useHere, useWindow } from '../state/context.ts'
import { stageIn } from '../state/pipes.ts'
import { bayOf } from '../state/windowState.ts'
import { onScreen, type Rig } from '../viewport/camera.ts'
import { useMeasure } from './useMeasure.ts'

/** Openings and ports over the drawing while the bay is measured; the one that is open is lit and named. */
export function MeasureMarks({ rig }: { rig: Rig }) {
  const { eye } = useHere()
  const frame = useStore(eye.store, (state) => state.frame)
  const stage = useWindow(stageIn)
  const bay = useWindow(bayOf)
  const open = useMeasure((state) => state.open)
  if (stage !== 'measure' || !bay) return null
  const text = (points: readonly Vec3[]) => points.map((point) => onScreen(point, rig, frame).join()).join(' ')
  return (
    <g className="measure-marks">
      {(bay.openings ?? []).map(({ id, name, outline, x }) => {
        const points = outline.map(([y, z]): Vec3 => [x, y, z])
        const now = open === `opening ${id}`
        return (
          <g key={`opening ${id}`} className={now ? 'mark-now' : undefined}>
            <polygon className="opening-mark" points={text(points)} />
            {now && <Name name={name} at={onScreen(points[0], rig, frame)} />}
          </g>
        )
      })}
      {(bay.ports ?? []).map((port) => {
        const { ring, arrow } = portMark(port)
        const [from, to] = arrow.map((point) => onScreen(point, rig, frame))
        const now = open === `port ${port.id}`
        return (
          <g key={`port ${port.id}`} className={now ? 'mark-now' : undefined}>
            <polygon className="port-ring" points={text(ring)} />
            <line className="port-arrow" x1={from[0]} y1={from[1]} x2={to[0]} y2={to[1]} />
            <circle className="port-tip" cx={to[0]} cy={to[1]} r="3" />
            {now && <Name name={port.name} at={to} />}
          </g>
        )
      })}
    </g>
  )
}

const Name = ({ name, at }: { name: string; at: readonly [number, number] }) => (
  <text className="mark-name" x={at[0] + 8} y={at[1] - 8}>
    {name}
  </text>
)
