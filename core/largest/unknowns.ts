/** Six faces and the tilt away from the view's middle: how many unknowns a core has, and where among them the tilt is. */
export const unknowns = 7
export const tiltAt = 6
