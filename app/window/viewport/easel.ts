import { proxy, type Remote, transfer, wrap } from 'comlink'
import type { Dress, News, Picked, PictureDesk, Wish } from '../picture/protocol.ts'
import { cutShown } from '../state/seeing.ts'
import type { ViewName, WindowState } from '../state/windowState.ts'
import type { Workroom } from '../state/workroom.ts'
import type { Rig } from './camera.ts'
import { Carrier } from './carriage.ts'
import type { Eye } from './eye.ts'
import { dressKey, dressOf } from './looks.ts'
import { paletteOf } from './palette.ts'
import { ScenePost } from './scenePost.ts'

const startWorker = () => new Worker(new URL('../picture/pictureWorker.ts', import.meta.url), { type: 'module' })

export interface EaselListener {
  /** Looks, solids or cut are new: the small drawings then follow. */
  changed(): void
  /** The graphics were lost, or came back. */
  lost(isLost: boolean): void
  /** Something that was asked for is not drawn yet, or all is. */
  busy(isBusy: boolean): void
}

/**
 * Keeps the large drawing up to date: asks the worker for a drawing when something has changed and never otherwise, at
 * most once a frame.
 */
export class Easel {
  /** It has begun; fails where the browser cannot draw. */
  readonly ready: Promise<void>
  private readonly worker = startWorker()
  private readonly desk: Remote<PictureDesk> = wrap<PictureDesk>(this.worker)
  private readonly post = new ScenePost(this.desk)
  private readonly room: Workroom
  private readonly eye: Eye
  private readonly canvas: HTMLCanvasElement
  private readonly listener: EaselListener
  private ends: readonly (() => void)[] = []
  private readonly carrier = new Carrier()
  private frame = 0
  private open = 0
  private dressed = ''
  private cutKey = ''

  /** @param canvas one that nobody has drawn on yet */
  constructor(canvas: HTMLCanvasElement, room: Workroom, eye: Eye, listener: EaselListener) {
    this.canvas = canvas
    this.room = room
    this.eye = eye
    this.listener = listener
    const surface = canvas.transferControlToOffscreen()
    const told = proxy((news: News) => this.heard(news))
    const started = this.desk.start(transfer(surface, [surface]), paletteOf(canvas), told)
    // A worker that cannot even be loaded answers nothing.
    const broken = new Promise<never>((_, fail) => {
      this.worker.addEventListener('error', fail, { once: true })
    })
    this.ready = this.awaited(Promise.race([started, broken]).then(() => this.begin()))
  }

  /** With all that has come to be meanwhile. */
  private begin(): void {
    const { room, eye } = this
    this.ends = [
      room.scene.subscribe(() => this.sceneChanged()),
      room.store.subscribe((state, before) => this.stateChanged(state, before)),
      eye.store.subscribe(() => this.invalidate()),
    ]
    eye.pictureOf = (view, times) => this.desk.shot(this.wish(view, times))
    const state = room.store.getState()
    void this.desk.palette(paletteOf(this.canvas), this.dress(state))
    this.sceneChanged()
    this.carry(state)
    this.cut(state)
  }

  /** Nothing is heard of it any more. */
  dispose(): void {
    cancelAnimationFrame(this.frame)
    for (const end of this.ends) end()
    this.eye.pictureOf = null
    this.post.dispose()
    this.worker.terminate()
  }

  /** A small drawing as pixels. @param ratio device pixels in one of the page */
  small(rig: Rig, width: number, height: number, ratio: number): Promise<ImageData> {
    return this.awaited(this.desk.small(rig, width, height, ratio))
  }

  /** What stands at a place of the large drawing, or null. */
  pick(x: number, y: number): Promise<Picked | null> {
    const { rig, frame } = this.wish(this.room.store.getState().view, 1)
    return this.desk.pick(rig, frame, x, y)
  }

  private heard(news: News): void {
    if (news.kind === 'pace') this.eye.setPace(news)
    else this.listener.lost(news.kind === 'lost')
    if (news.kind === 'back') this.changed()
  }

  private invalidate(): void {
    if (this.frame === 0) this.frame = requestAnimationFrame(() => this.draw())
  }

  private draw(): void {
    this.frame = 0
    void this.awaited(this.desk.draw(this.wish(this.room.store.getState().view, Math.min(2, devicePixelRatio))))
  }

  private async awaited<T>(answer: Promise<T>): Promise<T> {
    if (this.open++ === 0) this.listener.busy(true)
    try {
      return await answer
    } finally {
      if (--this.open === 0) this.listener.busy(false)
    }
  }

  private wish(view: ViewName, ratio: number): Wish {
    const { frame, moving } = this.eye.store.getState()
    return { rig: this.eye.rig(view), frame, ratio, moving }
  }

  private changed(): void {
    this.listener.changed()
    this.invalidate()
  }

  private sceneChanged(): void {
    const scene = this.room.scene.getState()
    this.post.send(scene, () => this.dress(this.room.store.getState()))
    // While numbers are stepped the drawing has to keep up, as it does while the view turns.
    this.eye.stir()
  }

  private stateChanged(state: WindowState, before: WindowState): void {
    if (state.view !== before.view) this.invalidate()
    if (state.motion !== before.motion) this.carry(state)
    if (state.theme !== before.theme) void this.desk.palette(paletteOf(this.canvas), this.dress(state))
    else if (dressKey(state) !== this.dressed) void this.desk.dress(this.dress(state))
    this.cut(state)
  }

  private carry(state: WindowState): void {
    void this.desk.carry(this.carrier.carriage(state))
    this.eye.stir()
    this.changed()
  }

  private cut(state: WindowState): void {
    const plane = cutShown(state)?.plane ?? null
    const key = plane ? [...plane.normal, plane.offset].join() : ''
    if (key === this.cutKey) return
    this.cutKey = key
    void this.desk.cut(plane)
    this.eye.stir()
    this.changed()
  }

  /** What is worn now; the worker is to be told of it. */
  private dress(state: WindowState): Dress {
    this.dressed = dressKey(state)
    this.changed()
    return dressOf(state, this.room.scene.getState())
  }
}
