/** Under every answer that people might build by. */
export const cautions =
  'Gapwright is a drawing aid. Crash structure, lamps and their positions, brakes, steering, fuel, hot and pressurised parts ' +
  'are judged by licensed practice and local codes. Nothing here is a reason to cut or remove a safety structure.'
