/** A place of the drawing, pixels from its top left, for the style of an element. */
export const translated = ([x, y]: readonly [number, number]): string =>
  `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`
