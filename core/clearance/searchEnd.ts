/** Wider bounds than this, mm, are told as 'limit': a tenth of the promised 0.001 mm. */
export const widest = 1e-4

/**
 * Width of the bounds, mm, at which a branch and bound that has looked so many times may end: nearly always 1e-8 mm and
 * what the convex kernel can resolve at these coordinates. Where very many places are equally near (concentric bends, a
 * bend round a cylinder), each halving of the width costs 1.4 times the work for nothing that a person could use; so the
 * width widens with the work, never beyond `widest`.
 * @param reach sum of both solids' largest coordinates, mm
 */
export function endWidthAfter(looks: number, reach: number): number {
  const resolved = 4e-12 * reach
  if (looks < 1000) return Math.min(1e-8 + resolved, widest)
  if (looks < 2500) return Math.min(1e-6 + resolved, widest)
  return looks < 5000 ? Math.min(1e-5 + resolved, widest) : widest
}
