import { processIo } from './io.ts'
import { run } from './run.ts'

// The status is set and not exited with, so that an answer still on its way through a pipe arrives whole.
process.exitCode = await run(process.argv.slice(2), processIo(process))
