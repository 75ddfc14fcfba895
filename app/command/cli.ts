import { isMainThread } from 'node:worker_threads'
import { processIo } from './io.ts'
import { run } from './run.ts'
import { searchForParent, searchInThread } from './searchThread.ts'

// The status is set and not exited with, so that an answer still on its way through a pipe arrives whole.
if (isMainThread)
  process.exitCode = await run(process.argv.slice(2), processIo(process), searchInThread(new URL(import.meta.url)))
else await searchForParent()
