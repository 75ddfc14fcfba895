#!/usr/bin/env node
// The program as people start it: `npx gapwright …` inside the project. Installing builds nothing, so the first use does,
// and so does a use after a source has changed; both say so on stderr.
import { ensureBuilt } from './build.mjs'

try {
  await ensureBuilt(['cli'])
} catch (error) {
  process.stderr.write(`gapwright could not be built: ${error instanceof Error ? error.message : error}\n`)
  process.exit(2)
}
await import(new URL('../dist/node/cli.mjs', import.meta.url).href)
