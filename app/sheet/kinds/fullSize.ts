/** Beside the bar on every full-size page. */
export const barWords: readonly string[] = [
  '100 mm (3.937″)',
  'Print at 100 %. If this bar is not 100 mm long, do not use the page.',
]
