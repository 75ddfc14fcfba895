import type { Role } from '../../../core/bay/schema.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import type { Verdict } from '../../../core/verdict/answer.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import type { CutPlane } from '../seeing/cutPlane.ts'
import type { Frame, Rig } from '../viewport/camera.ts'
import type { Carriage } from '../viewport/carriage.ts'

/**
 * What the page asks of the worker that draws: no call of the page waits for the graphics. Calls are taken in the order
 * in which they come; all values are plain data.
 */
export interface PictureDesk {
  /** Comes first; fails where the browser cannot draw. */
  start(canvas: OffscreenCanvas, palette: Palette, told: (news: News) => void): void
  /** A solid that scenes after it name by this number, until there is one that does not. */
  solid(id: number, solid: DrawnSolid): void
  scene(scene: SceneById, dress: Dress): void
  palette(palette: Palette, dress: Dress): void
  dress(dress: Dress): void
  /** Takes away what lies beyond a plane; null: nothing. */
  cut(plane: CutPlane | null): void
  /** Puts the parts that move where they are on their way. */
  carry(carriage: Carriage | null): void
  /**
   * Draws the large drawing as soon as the graphics are free; of what is asked until then, the newest counts. Resolves
   * when it is drawn.
   */
  draw(wish: Wish): Promise<void>
  /** The large drawing in other pixels than the screen's; null where the graphics cannot draw so many. */
  shot(wish: Wish): Promise<ImageBitmap | null>
  /** A small drawing. @param ratio device pixels in one of the page */
  small(rig: Rig, width: number, height: number, ratio: number): Promise<ImageData>
  /** What stands at a place of the large drawing, or null. */
  pick(rig: Rig, frame: Frame, x: number, y: number): Picked | null
}

/** A scene whose solids are named by the numbers under which they were sent. */
export interface SceneById {
  readonly origin: Vec3
  readonly keepOuts: readonly number[]
  readonly parts: readonly number[]
  readonly ghost: number | null
  readonly other: readonly number[]
}

/** Hatches by what a solid is. */
export type Hatch = Role | 'core' | 'plain' | 'overlap'
/** How much a solid stands out: 'faint' beside a chosen gap, 'ghost' when only its edges are wanted. */
export type Worn = 'plain' | 'chosen' | 'faint' | 'ghost'
/** 'gone': not seen at all. */
export type Emphasis = Worn | 'gone'

export interface Look {
  readonly hatch: Hatch
  readonly emphasis: Emphasis
}

/** How each solid is to look, and what overlaps. */
export interface Dress {
  /** By `solidName`. */
  readonly looks: ReadonlyMap<string, Look>
  readonly overlapping: readonly OverlappingNames[]
}

export interface OverlappingNames {
  readonly part: string
  readonly other: string
  readonly otherSide: DrawnSolid['side']
  readonly verdict: Verdict
}

/** A colour for each thing that is drawn. */
export interface Colours<Colour> {
  readonly paper: Colour
  readonly ink: Colour
  readonly keepOut: Colour
  readonly keepOutInk: Colour
  readonly part: Colour
  readonly partInk: Colour
  readonly verdict: Readonly<Record<Verdict, Colour>>
}

/** Colours as the style sheet writes them. */
export type Palette = Colours<string>

export interface Wish {
  readonly rig: Rig
  readonly frame: Frame
  /** Device pixels in one of the page. */
  readonly ratio: number
  /** The view moves: lighter drawing is welcome. */
  readonly moving: boolean
}

export type Picked = Pick<DrawnSolid, 'side' | 'key'>

/** What the worker tells of itself. */
export type News = { readonly kind: 'lost' } | { readonly kind: 'back' } | ({ readonly kind: 'pace' } & PaceNow)

export interface PaceNow {
  /** Full drawings take too long to follow the hand. */
  readonly slow: boolean
  /** Even at rest the drawing is made from lighter copies: a full one would hold up the graphics. */
  readonly lighter: boolean
}

export const solidName = ({ side, key }: Picked): string => `${side} ${key}`
