import type { WheelEvent } from 'react'

/** A wheel turned over what lies over the drawing zooms as beside it. */
export function zoomBelow({ nativeEvent, currentTarget }: WheelEvent<HTMLDivElement>): void {
  const stand = currentTarget.parentElement?.querySelector('.viewport-stand')
  stand?.dispatchEvent(new globalThis.WheelEvent('wheel', nativeEvent))
}
