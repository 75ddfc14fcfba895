/** How large pages are shown: as wide as the room, whole, or a share of their true size. */
export type Zoom = 'width' | 'page' | number

export interface Extent {
  readonly width: number
  readonly height: number
}

/** Of a set of sheets. */
export interface Contents {
  /** PDF points, as the pages stand. */
  readonly pages: readonly Extent[]
  /** Its bookmarks; pages from 0. */
  readonly marks: readonly { readonly title: string; readonly page: number }[]
}

/** Around a page and between two, pixels. */
export const pageMargin = 16

/** A pixel of a style sheet is 1/96 inch, a point of a PDF 1/72. Source: CSS Values and Units; ISO 32000-1. */
const trueSize = 96 / 72
const [least, most] = [0.2, 4]

/** @returns pixels to a point, for one page in a room of pixels */
export function scaleOf(zoom: Zoom, room: Extent, page: Extent): number {
  const wide = Math.max(1, room.width - 2 * pageMargin) / page.width
  if (zoom === 'width') return wide
  if (zoom === 'page') return Math.min(wide, Math.max(1, room.height - 2 * pageMargin) / page.height)
  return zoom * trueSize
}

/** A step larger or smaller than what is seen now. */
export function steppedZoom(scale: number, factor: number): number {
  const next = (scale / trueSize) * factor
  // 100 % is not stepped over.
  const passes = (scale / trueSize - 1) * (next - 1) < -1e-9
  return passes ? 1 : Math.min(most, Math.max(least, next))
}

export const percentOf = (scale: number): number => Math.round((100 * scale) / trueSize)

/** Where each page begins, from the top of the first one's margin, and where the last one ends. */
export function topsOf(pages: readonly Extent[], scales: readonly number[]): number[] {
  const tops = [pageMargin]
  pages.forEach(({ height }, i) => {
    tops.push(tops[i] + Math.round(height * scales[i]) + pageMargin)
  })
  return tops
}

/** The page across the middle of what is seen. */
export function pageAt(tops: readonly number[], middle: number): number {
  const after = tops.findIndex((top) => top > middle)
  return Math.max(0, (after < 0 ? tops.length - 1 : after) - 1)
}
