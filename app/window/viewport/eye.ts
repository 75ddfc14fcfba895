import { createStore, type StoreApi } from 'zustand/vanilla'
import type { Bounds } from '../../../core/shape/form.ts'
import type { ViewName } from '../state/windowState.ts'
import { between, fitted, type Frame, type Rig, startRig } from './camera.ts'

export type Rigs = Readonly<Record<ViewName, Rig>>

/** Where each view looks at present, and where the one in front is flying to. */
export interface EyeState {
  readonly rigs: Rigs
  readonly frame: Frame
  /** The view moves: lighter drawing is welcome. */
  readonly moving: boolean
}

export type EyeStore = StoreApi<EyeState>

const noFrame: Frame = { width: 1, height: 1, top: 0, bottom: 0, left: 0, right: 0 }
const rest = 140
const flight = 420

/** Steers the camera: every way to look around (pointer, key, button, choice of a row) ends here. */
export class Eye {
  readonly store: EyeStore = createStore<EyeState>(() => ({
    rigs: { space: startRig('space'), front: startRig('front'), side: startRig('side'), plan: startRig('plan') },
    frame: noFrame,
    moving: false,
  }))
  private flying = 0
  private settling: ReturnType<typeof setTimeout> | undefined

  rig(view: ViewName): Rig {
    return this.store.getState().rigs[view]
  }

  setFrame(frame: Frame): void {
    this.store.setState({ frame })
  }

  /** A step by hand: it ends a flight. */
  move(view: ViewName, step: (rig: Rig, frame: Frame) => Rig): void {
    cancelAnimationFrame(this.flying)
    const { frame } = this.store.getState()
    this.set(view, step(this.rig(view), frame))
  }

  /** Glides there, or stands there at once where the user asked for less motion. */
  fly(view: ViewName, step: (rig: Rig, frame: Frame) => Rig): void {
    cancelAnimationFrame(this.flying)
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
    this.store.setState(({ rigs, frame }) => ({
      rigs: {
        space: fitted({ ...rigs.space, ...startRig('space') }, bounds, frame),
        front: fitted(rigs.front, bounds, frame),
        side: fitted(rigs.side, bounds, frame),
        plan: fitted(rigs.plan, bounds, frame),
      },
    }))
  }

  private set(view: ViewName, rig: Rig): void {
    this.store.setState(({ rigs }) => ({ rigs: { ...rigs, [view]: rig }, moving: true }))
    clearTimeout(this.settling)
    this.settling = setTimeout(() => this.store.setState({ moving: false }), rest)
  }
}
