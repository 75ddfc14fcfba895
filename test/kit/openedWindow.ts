/** Software drawing, so that the same pixels come out on a machine without a graphics card; no traffic of its own. */
export const browserFlags = [
  '--no-sandbox',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--ignore-gpu-blocklist',
]

/** The window when its ledger, and every row of it, belongs to the bay as it is now. */
export const fresh = '.window[data-state="fresh"]:not(:has(.rows[aria-busy="true"]))'
