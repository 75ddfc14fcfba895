// Named scenes, each way of answering beside its baseline in one run: `npm run bench [-- SCENES]`.
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { dist, ensureBuilt } from './build.mjs'

await ensureBuilt(['bench', 'window'])
await import(pathToFileURL(join(dist, 'node', 'bench.mjs')).href)
