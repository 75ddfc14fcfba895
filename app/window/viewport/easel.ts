import type { Workroom } from '../state/workroom.ts'
import type { ViewName, WindowState } from '../state/windowState.ts'
import { Carrier } from './carriage.ts'
import { cutShown } from '../state/seeing.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import type { Rig } from './camera.ts'
import type { Eye } from './eye.ts'
import { dressKey, dressOf } from './looks.ts'
import { Picture } from './picture.ts'
import { tonesOf } from './tones.ts'
import { Turns } from './turns.ts'

/** Above this a full drawing is too slow to follow the hand, ms. */
const slow = 24
/** From so many triangles on, how long a full drawing takes is judged by a lighter one first. */
const huge = 400_000
/** A full drawing that would hold up the window for longer is never made, ms. */
const tooLong = 400
/** Pixels drawn for one of the page, while such a drawing moves. */
const coarse = 0.5

/**
 * Keeps the large drawing up to date: draws when something has changed and never otherwise, at most once a frame.
 * While the view moves on a slow machine, surfaces of very many triangles are drawn from their lighter copies.
 */
export class Easel {
  private readonly picture: Picture
  private readonly turns: Turns
  private readonly room: Workroom
  private readonly eye: Eye
  private readonly canvas: HTMLCanvasElement
  private readonly ends: (() => void)[] = []
  private readonly carrier = new Carrier()
  private frame = 0
  private isGone = false
  private dressed = ''
  private opened = 0
  private cutKey = ''
  /** How long a full drawing takes with these heavy solids, ms. */
  private timed: { readonly heavy: string; readonly cost: number } = { heavy: '', cost: 0 }
  /** What a full drawing would take, ms, by what a lighter one took. */
  private guess: { readonly heavy: string; readonly cost: number } = { heavy: '', cost: 0 }
  private warm = ''
  private readonly onRest: () => void

  /** @param onRest after a drawing whose looks, solids or cut are new: the small drawings then follow */
  constructor(canvas: HTMLCanvasElement, room: Workroom, eye: Eye, onRest: () => void) {
    this.canvas = canvas
    this.room = room
    this.eye = eye
    this.onRest = onRest
    this.picture = new Picture(canvas, tonesOf(canvas))
    this.turns = new Turns(() => this.picture.drawn())
    this.ends.push(
      room.scene.subscribe(() => this.sceneChanged()),
      room.store.subscribe((state, before) => this.stateChanged(state, before)),
      eye.store.subscribe(() => this.invalidate()),
    )
    const restored = () => {
      this.picture.isReady = false
      this.sceneChanged()
    }
    canvas.addEventListener('webglcontextrestored', restored)
    this.ends.push(() => canvas.removeEventListener('webglcontextrestored', restored))
    eye.pictureOf = (view, times) => this.pictureOf(view, times)
    this.ends.push(() => {
      eye.pictureOf = null
    })
    this.sceneChanged()
  }

  private pictureOf(view: ViewName, times: number): Promise<ImageBitmap | null> {
    const { frame, lighter } = this.eye.store.getState()
    const shot = this.turns.take(() => this.picture.shot(this.eye.rig(view), frame, times, lighter))
    this.invalidate()
    return shot
  }

  invalidate(): void {
    if (this.frame === 0 && !this.isGone) this.frame = requestAnimationFrame(() => this.nextFrame())
  }

  dispose(): void {
    this.isGone = true
    cancelAnimationFrame(this.frame)
    for (const end of this.ends) end()
    void this.turns.take(() => this.picture.dispose())
  }

  private sceneChanged(): void {
    const scene = this.room.scene.getState()
    this.picture.setScene(scene)
    if (scene.opened !== this.opened && scene.bounds) {
      this.opened = scene.opened
      this.eye.fitAll(scene.bounds)
    }
    this.dress(this.room.store.getState())
    // While numbers are stepped the drawing has to keep up, as it does while the view turns.
    this.eye.stir()
  }

  private stateChanged(state: WindowState, before: WindowState): void {
    if (state.theme !== before.theme) this.picture.setTones(tonesOf(this.canvas))
    if (state.view !== before.view) this.invalidate()
    if (state.motion !== before.motion) this.carry(state)
    if (dressKey(state) !== this.dressed) this.dress(state)
    this.cut(state)
  }

  private carry(state: WindowState): void {
    this.picture.carry(this.carrier.carriage(state))
    this.eye.stir()
    this.onRest()
    this.invalidate()
  }

  private cut(state: WindowState): void {
    const plane = cutShown(state)?.plane ?? null
    const key = plane ? [...plane.normal, plane.offset].join() : ''
    if (key === this.cutKey) return
    this.cutKey = key
    this.picture.cut(plane, this.eye.store.getState().lighter)
    this.eye.stir()
    this.onRest()
    this.invalidate()
  }

  private dress(state: WindowState): void {
    this.dressed = dressKey(state)
    this.picture.dress(dressOf(state, this.room.scene.getState().ghost !== null))
    this.onRest()
    this.invalidate()
  }

  /** A small drawing as pixels. @param ratio device pixels in one of the page */
  small(rig: Rig, width: number, height: number, ratio: number): Promise<ImageData> {
    return this.turns.take(() => this.picture.small(rig, width, height, ratio))
  }

  /** What stands at a place of the large drawing, or null. */
  pick(x: number, y: number): DrawnSolid | null {
    const { view } = this.room.store.getState()
    return this.picture.pick(this.eye.rig(view), this.eye.store.getState().frame, x, y)
  }

  /** At the next frame, or when the graphics are through with what they have. */
  private nextFrame(): void {
    this.frame = 0
    if (this.turns.isBusy) void this.turns.idle.then(() => this.invalidate())
    else if (!this.picture.isReady) void this.turns.take(() => this.picture.getReady()).then(() => this.invalidate())
    else void this.turns.take(() => this.draw())
  }

  private draw(): void {
    const { view } = this.room.store.getState()
    const { frame, moving, lighter } = this.eye.store.getState()
    const { heavy, triangles } = this.picture
    const known = this.timed.heavy === heavy
    const isHuge = triangles.full > huge
    const guessed = this.guess.heavy === heavy
    const never = isHuge && (!guessed || this.guess.cost > tooLong)
    const light = heavy !== '' && (never || (moving && (!known || this.timed.cost > slow)))
    // Where even lighter copies are slow, most of the time goes into pixels.
    const ratio = moving && lighter ? coarse : Math.min(2, devicePixelRatio)
    const begin = performance.now()
    this.picture.draw(this.eye.rig(view), frame, ratio, light)
    if (!isHuge) this.eye.setLighter(false)
    if (isHuge && never) {
      if (!guessed && !moving) this.guessFrom(begin, heavy, triangles)
      return
    }
    if (known || moving) return
    this.timed = { heavy, cost: 0 }
    void this.picture.drawn().then(() => {
      this.timed = { heavy, cost: performance.now() - begin }
      this.eye.setSlow(this.timed.cost > slow)
    })
  }

  /** The first drawing also makes shaders and hands over surfaces: only the one after it tells how quick the machine is. */
  private guessFrom(begin: number, heavy: string, { full, light }: { readonly full: number; readonly light: number }) {
    if (this.warm !== heavy) {
      this.warm = heavy
      void this.picture.drawn().then(() => this.invalidate())
      return
    }
    void this.picture.drawn().then(() => {
      this.guess = { heavy, cost: ((performance.now() - begin) * full) / Math.max(1, light) }
      const lighter = this.guess.cost > tooLong
      this.eye.setLighter(lighter)
      this.eye.setSlow(this.guess.cost > slow)
      if (!lighter) this.invalidate()
    })
  }
}
