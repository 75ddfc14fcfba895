import { transfer } from 'comlink'
import type { DrawnSolid } from '../../worker/protocol.ts'
import type { CutPlane } from '../seeing/cutPlane.ts'
import type { Frame, Rig } from '../viewport/camera.ts'
import type { Carriage } from '../viewport/carriage.ts'
import { Pace } from './pace.ts'
import { Picture } from './picture.ts'
import type { Dress, News, Palette, Picked, PictureDesk, SceneById, Wish } from './protocol.ts'
import { tonesOf } from './tones.ts'
import { Turns } from './turns.ts'

/** Pixels drawn for one of the page, while a drawing moves that is slow even when made from lighter copies. */
const coarse = 0.5
/** Without a graphics card a drawing takes all processors there are; after one, others are left that long at most, ms. */
const breath = 200

/** Draws what the page asks for, one drawing after the other. */
export class Painter implements PictureDesk {
  private readonly solids = new Map<number, DrawnSolid>()
  private picture!: Picture
  private pace!: Pace
  private turns!: Turns
  private wish: Wish | null = null
  private next: Promise<void> | null = null
  /** Where it was looked from last. */
  private looked = ''
  /** Until then others come first. */
  private free = 0

  start(canvas: OffscreenCanvas, palette: Palette, told: (news: News) => void): void {
    this.picture = new Picture(canvas, tonesOf(palette))
    this.turns = new Turns(() => this.picture.drawn())
    this.pace = new Pace((pace) => told({ kind: 'pace', ...pace }))
    canvas.addEventListener('webglcontextlost', () => told({ kind: 'lost' }))
    canvas.addEventListener('webglcontextrestored', () => {
      this.picture.isReady = false
      told({ kind: 'back' })
    })
  }

  solid(id: number, solid: DrawnSolid): void {
    this.solids.set(id, solid)
  }

  scene({ origin, keepOuts, parts, ghost, other }: SceneById, dress: Dress): void {
    const named = new Set([...keepOuts, ...parts, ...other, ...(ghost === null ? [] : [ghost])])
    for (const id of this.solids.keys()) if (!named.has(id)) this.solids.delete(id)
    const all = (ids: readonly number[]) => ids.flatMap((id) => this.solids.get(id) ?? [])
    this.picture.setScene({
      origin,
      solids: all([...keepOuts, ...parts]),
      ghost: (ghost !== null && this.solids.get(ghost)) || null,
      other: all(other),
    })
    this.picture.dress(dress)
  }

  palette(palette: Palette, dress: Dress): void {
    this.picture.setTones(tonesOf(palette))
    this.picture.dress(dress)
  }

  dress(dress: Dress): void {
    this.picture.dress(dress)
  }

  cut(plane: CutPlane | null): void {
    this.picture.cut(plane, this.pace.lighter)
  }

  carry(carriage: Carriage | null): void {
    this.picture.carry(carriage)
  }

  draw(wish: Wish): Promise<void> {
    this.wish = wish
    return this.due()
  }

  async shot(wish: Wish): Promise<ImageBitmap | null> {
    const shot = await this.turns.take(() => {
      const bitmap = this.picture.shot(wish.rig, wish.frame, wish.ratio, this.pace.lighter)
      // The screen must not come to see it.
      this.paint()
      return bitmap
    })
    return shot && transfer(shot, [shot])
  }

  async small(rig: Rig, width: number, height: number, ratio: number): Promise<ImageData> {
    const image = await this.turns.take(() => this.picture.small(rig, width, height, ratio))
    return transfer(image, [image.data.buffer])
  }

  pick(rig: Rig, frame: Frame, x: number, y: number): Picked | null {
    const solid = this.picture.pick(rig, frame, x, y)
    return solid && { side: solid.side, key: solid.key }
  }

  private due(): Promise<void> {
    this.next ??= this.turns.take(async () => {
      await this.pause()
      if (!this.picture.isReady) await this.picture.getReady()
      this.next = null
      const begin = performance.now()
      this.paint()
      await this.picture.drawn()
      const now = performance.now()
      this.free = now + Math.min(now - begin, breath)
    })
    return this.next
  }

  /** What changes while the eye stands still comes from those who compute: they are left as much time as a drawing takes. */
  private async pause(): Promise<void> {
    const looked = () => JSON.stringify(this.wish?.rig)
    while (performance.now() < this.free && looked() === this.looked) await new Promise((done) => setTimeout(done, 4))
    this.looked = looked()
  }

  private paint(): void {
    const { wish, picture, pace } = this
    if (!wish) return
    const { rig, frame, moving } = wish
    // Where even lighter copies are slow, most of the time goes into pixels.
    const ratio = moving && pace.lighter ? coarse : wish.ratio
    picture.draw(rig, frame, ratio, pace.isLight(picture.weight, moving))
    pace.began(
      picture.weight,
      moving,
      () => picture.drawn(),
      () => void this.due(),
    )
  }
}
