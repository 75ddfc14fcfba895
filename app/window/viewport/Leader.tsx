import { useEffect, useState } from 'react'
import { useStore } from 'zustand'
import { mix, type Vec3 } from '../../../core/shape/vec.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import { itemOfPart } from '../editors/specs.ts'
import { useHere, useWindow } from '../state/context.ts'
import { onScreen, type Rig } from './camera.ts'

/** A hairline from the open item beside the drawing to what it is in the drawing. */
export function Leader({ rig }: { rig: Rig }) {
  const { room, eye } = useHere()
  const item = useWindow((state) => (state.stage === 'measure' || state.stage === 'core' ? state.openItem : null))
  const frame = useStore(eye.store, (state) => state.frame)
  const keepOuts = useStore(room.scene, (scene) => scene.keepOuts)
  const parts = useStore(room.scene, (scene) => scene.parts)
  const label = useLabel(item === null ? null : `${item.side} ${item.key}`)
  const solids = item?.side === 'keepOut' ? keepOuts : parts
  const middle = item && label ? middleOf(solids.find(({ key }) => key === partOf(item.key))) : null
  if (!middle || !label) return null
  const [x, y] = onScreen(middle, rig, frame)
  const start = label.left ? 0 : frame.width
  const elbow = start + (label.left ? 26 : -26)
  return (
    <g className="leader">
      <polyline points={`${start},${label.y} ${elbow},${label.y} ${x},${y}`} />
      <circle cx={x} cy={y} r={2.6} />
    </g>
  )
}

/** The part at which an item's leader ends; place and limits belong to the core. */
const partOf = (key: string): string => (key === 'place' || key === 'limits' ? 'core' : itemOfPart(key))

function middleOf(solid: DrawnSolid | undefined): Vec3 | null {
  if (!solid) return null
  const { min, max } = solid.bounds
  const middle = mix(min, max, 0.5)
  return middle.every(Number.isFinite) ? middle : null
}

interface Label {
  /** Pixels from the drawing's top; the item stands left or right of the drawing. */
  readonly y: number
  readonly left: boolean
}

/** Where the open item's head stands beside the drawing; followed while its sheet is scrolled. */
function useLabel(item: string | null): Label | null {
  const [label, setLabel] = useState<Label | null>(null)
  useEffect(() => {
    if (item === null) {
      setLabel(null)
      return
    }
    const sheet = document.querySelector('.side-sheet')
    const find = () => {
      const head = document.querySelector('.callout-open .callout-head')?.getBoundingClientRect()
      const drawing = document.querySelector('.viewport')?.getBoundingClientRect()
      const y = head && drawing ? head.top + head.height / 2 - drawing.top : -1
      setLabel(head && drawing && y > 0 && y < drawing.height ? { y, left: head.left < drawing.left } : null)
    }
    // The sheet opens and scrolls the item into sight first.
    const frame = requestAnimationFrame(find)
    sheet?.addEventListener('scroll', find)
    addEventListener('resize', find)
    return () => {
      cancelAnimationFrame(frame)
      sheet?.removeEventListener('scroll', find)
      removeEventListener('resize', find)
    }
  }, [item])
  return label
}
