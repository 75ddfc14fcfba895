import { good, type Outcome } from '../../core/fault.ts'
import type { SheetSet } from '../sheet/settings.ts'
import type { Io } from './io.ts'
import { Progress } from './progress.ts'
import type { SearchAsk, Searcher } from './searches.ts'

/** A set is finished or there is none: only Ctrl-C ends its making, s. */
const noEnd = 1e6

/** Makes a set with progress on stderr. Null where Ctrl-C ended it: half a set is no set. */
export async function watchedSet(
  ask: SearchAsk<'sheets'>,
  io: Io,
  search: Searcher,
): Promise<Outcome<SheetSet | null>> {
  const progress = new Progress(io, (_, share) => `${Math.round(100 * share)} % of the work done`, 'Ctrl-C ends it')
  try {
    const made = await search('sheets', ask, {
      seconds: noEnd,
      progress: (inHand, share) => progress.told(inHand, share),
      stopping: () => {
        progress.end()
        io.err('Ending …\n')
      },
    })
    return made ?? good(null)
  } finally {
    progress.end()
  }
}
