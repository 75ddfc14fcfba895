import { useEffect, useRef, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { useStore } from 'zustand'
import { formatLength } from '../../../core/units/lengthText.ts'
import { useHere, useWindow } from '../state/context.ts'
import { isAway } from '../state/motion.ts'
import { cutShown } from '../state/seeing.ts'
import { candidateIn, selectedPair, type ViewName } from '../state/windowState.ts'
import { words } from '../words.ts'
import { fitted, startRig } from './camera.ts'
import type { Easel } from './easel.ts'
import { smallDrawingsFit, smallSize } from './insets.ts'
import { drawNotes } from './smallNotes.ts'

const all: readonly ViewName[] = ['front', 'side', 'plan']
/** After the large drawing has come to rest, before the small ones are made again, ms. */
const rest = 120

/** Front, side and plan in small; each can take the large place, and the view in space then takes its own. */
export function SmallDrawings({ easel, news }: { easel: Easel; news: number }) {
  const { room, eye } = useHere()
  const view = useWindow((state) => state.view)
  const width = useStore(eye.store, (state) => state.frame.width)
  const height = useStore(eye.store, (state) => state.frame.height)
  if (!smallDrawingsFit(width, height)) return null
  const size = smallSize(width)
  return (
    <fieldset className="small-drawings" aria-label={words.view.group}>
      {all.map((own) => {
        const shown = own === view ? 'space' : own
        return (
          <Button
            key={own}
            className="small-drawing"
            aria-label={words.view.bring(words.view[shown])}
            onPress={() => room.store.setState({ view: shown })}
          >
            <span className="small-name">{words.view[shown]}</span>
            <SmallDrawing easel={easel} view={shown} news={news} {...size} />
          </Button>
        )
      })}
    </fieldset>
  )
}

interface Props {
  readonly easel: Easel
  readonly view: ViewName
  readonly news: number
  readonly width: number
  readonly height: number
}

function SmallDrawing({ easel, view, news, width, height }: Props) {
  const { room, eye } = useHere()
  const canvas = useRef<HTMLCanvasElement>(null)
  /** What the image was made of. */
  const made = useRef<readonly unknown[]>([])
  const [image, setImage] = useState<ImageData | null>(null)
  const bounds = useStore(room.scene, (scene) => scene.bounds)
  // On its way in the candidate has no figures: they are those of its seat.
  const away = useWindow(isAway)
  const seated = useStore(room.scene, (scene) => scene.parts.find(({ key }) => key === 'core')?.bounds ?? null)
  // Of a core that is cut open its whole size would stand beside what is left of it.
  const isCut = useWindow((state) => cutShown(state) !== null)
  const core = away || isCut ? null : seated
  const pair = useWindow((state) => (isAway(state) ? null : selectedPair(state)))
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const theme = useWindow((state) => state.theme)
  // While something is in the hand they would hold up the large drawing: reading their pixels back takes long.
  const held = useWindow((state) => state.held !== null)
  const moving = useStore(eye.store, (state) => state.moving) || held
  const frame = { width, height, top: 20, bottom: 22, left: 24, right: 12 }
  const rig = bounds ? fitted(startRig(view), bounds, frame) : null
  const ratio = Math.min(2, devicePixelRatio)

  // `news` stands for everything that the picture depends on beside the bounds.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  useEffect(() => {
    const now = [news, view, width, height, bounds] as const
    if (!rig || moving || now.every((part, i) => part === made.current[i])) return
    let wanted = true
    const timer = setTimeout(() => {
      void easel.small(rig, width, height, ratio).then((drawn) => {
        if (!wanted) return
        made.current = now
        setImage(drawn)
      })
    }, rest)
    return () => {
      wanted = false
      clearTimeout(timer)
    }
  }, [easel, view, news, width, height, bounds, moving])

  useEffect(() => {
    const element = canvas.current
    if (!element || !rig || held) return
    const size = candidate?.core
    const figure = (mm: number) =>
      formatLength(mm, units, { decimals: units === 'mm' ? 0 : undefined, fraction: 16, bare: true })
    drawNotes(element, {
      image,
      rig,
      frame,
      ratio,
      view,
      core,
      figures: size ? { depth: figure(size.depth), width: figure(size.width), height: figure(size.height) } : null,
      pair,
      theme,
    })
  })

  return (
    <span aria-hidden="true">
      <canvas ref={canvas} width={width * ratio} height={height * ratio} style={{ width, height }} />
    </span>
  )
}
