import { createStore, type StoreApi } from 'zustand/vanilla'
import type { Bounds } from '../../../core/shape/form.ts'
import type { PaceNow } from '../picture/protocol.ts'
import type { ViewName } from '../state/windowState.ts'
import { between, fitted, type Frame, type Rig, startRig } from './camera.ts'

export type Rigs = Readonly<Record<ViewName, Rig>>

/** Where each view looks at present, and where the one in front is flying to. */
export interface EyeState extends PaceNow {
  readonly rigs: Rigs
  readonly frame: Frame
  /** The view moves: lighter drawing is welcome. */
  readonly moving: boolean
}

export type EyeStore = StoreApi<EyeState>

const noFrame: Frame = { width: 1, height: 1, top: 0, bottom: 0, left: 0, right: 0 }
const views: readonly ViewName[] = ['space', 'front', 'side', 'plan']
/** After the last movement the view has come to rest, ms; on a slow machine a full drawing must not get in the way. */
const rest = { quick: 140, slow: 600 }
/** How long a flight takes, ms. */
const flight = 420

/** Steers the camera: every way to look around (pointer, key, button, choice of a row) ends here. */
export class Eye {
  readonly store: EyeStore = createStore<EyeState>(() => ({
    rigs: { space: startRig('space'), front: startRig('front'), side: startRig('side'), plan: startRig('plan') },
    frame: noFrame,
    moving: false,
    slow: false,
    lighter: false,
  }))
  /** The present drawing in so many pixels for one; set by whoever draws. Null where the graphics cannot. */
  pictureOf: ((view: ViewName, times: number) => Promise<ImageBitmap | null>) | null = null
  private flying = 0
  /** Views that show all of these bounds, not moved by hand since. */
  private readonly showingAll = new Map<ViewName, Bounds>()
  private settling: ReturnType<typeof setTimeout> | undefined

  rig(view: ViewName): Rig {
    return this.store.getState().rigs[view]
  }

  /** Views that show all of the bay go on doing so in the new frame. */
  setFrame(frame: Frame): void {
    const before = this.store.getState().frame
    if (Object.entries(frame).every(([side, pixels]) => before[side as keyof Frame] === pixels)) return
    this.store.setState({ frame })
    this.refit()
  }

  /** A step by hand: it ends a flight. */
  move(view: ViewName, step: (rig: Rig, frame: Frame) => Rig): void {
    cancelAnimationFrame(this.flying)
    const { frame } = this.store.getState()
    this.showingAll.delete(view)
    this.set(view, step(this.rig(view), frame))
  }

  /** Glides there, or stands there at once where the user asked for less motion. */
  fly(view: ViewName, step: (rig: Rig, frame: Frame) => Rig): void {
    cancelAnimationFrame(this.flying)
    this.showingAll.delete(view)
    const from = this.rig(view)
    const to = step(from, this.store.getState().frame)
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
      this.set(view, to)
      return
    }
    const begin = performance.now()
    const tick = () => {
      const share = Math.min(1, (performance.now() - begin) / flight)
      this.set(view, between(from, to, 1 - (1 - share) ** 3))
      if (share < 1) this.flying = requestAnimationFrame(tick)
    }
    this.flying = requestAnimationFrame(tick)
  }

  /** Looks at all of a bay in every view; at once, since another bay is another place. */
  fitAll(bounds: Bounds): void {
    cancelAnimationFrame(this.flying)
    this.store.setState(({ rigs }) => ({ rigs: { ...rigs, space: { ...rigs.space, ...startRig('space') } } }))
    for (const view of views) this.showingAll.set(view, bounds)
    this.refit()
  }

  /** Glides to where all of the bay is seen, and keeps it so when the frame changes. */
  flyToAll(view: ViewName, bounds: Bounds): void {
    this.fly(view, (rig, frame) => fitted(rig, bounds, frame))
    this.showingAll.set(view, bounds)
  }

  private refit(): void {
    this.store.setState(({ rigs, frame }) => ({
      rigs: Object.fromEntries(
        views.map((view) => {
          const bounds = this.showingAll.get(view)
          return [view, bounds ? fitted(rigs[view], bounds, frame) : rigs[view]]
        }),
      ) as unknown as Rigs,
    }))
  }

  private set(view: ViewName, rig: Rig): void {
    this.store.setState(({ rigs }) => ({ rigs: { ...rigs, [view]: rig } }))
    this.stir()
  }

  setPace({ slow, lighter }: PaceNow): void {
    this.store.setState({ slow, lighter })
  }

  /** Something moves: for a moment a lighter drawing is welcome. */
  stir(): void {
    if (!this.store.getState().moving) this.store.setState({ moving: true })
    clearTimeout(this.settling)
    const { slow } = this.store.getState()
    this.settling = setTimeout(() => this.store.setState({ moving: false }), slow ? rest.slow : rest.quick)
  }
}
