/** Into how many equal chords an angle (radians) goes so that each stays within `sag` (mm) of a circle of `radius`. */
export const arcSteps = (angle: number, radius: number, sag: number): number =>
  Math.max(1, Math.ceil(angle / (2 * Math.acos(Math.max(0, 1 - sag / radius)))))
