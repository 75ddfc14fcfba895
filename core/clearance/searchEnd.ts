/** Width of the bounds, mm, that nearly all searches reach. */
export const fineWidth = 1e-8

/**
 * Width of the bounds, mm, at which a branch and bound that has looked so many times may end. Where very many places are
 * equally near (concentric bends, a bend round a cylinder), each halving of the width costs 1.4 times the work for nothing
 * that a person could use; so the width widens with the work, always a tenth of the promised 0.001 mm or less.
 */
export function endWidthAfter(looks: number): number {
  if (looks < 1000) return fineWidth
  if (looks < 2500) return 1e-6
  return looks < 5000 ? 1e-5 : 1e-4
}
