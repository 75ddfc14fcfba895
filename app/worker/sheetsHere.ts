import regular from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf?url'
import bold from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf?url'
import type { Meshes } from '../../core/bay/part.ts'
import { bad, FaultError, type Outcome } from '../../core/fault.ts'
import { makeSet, type SetWatch } from '../sheet/set.ts'
import type { SheetFonts, SheetSet } from '../sheet/settings.ts'
import { sha256Of } from './meshFile.ts'
import type { SearchAsk } from './searchProtocol.ts'

/** The sheets of a candidate, as the command line makes them; the faces come from beside the page. */
export async function sheetsHere(
  { bay, candidate, request: { settings, text, meshFiles } }: SearchAsk<'sheets'>,
  meshes: Meshes,
  watch: SetWatch,
): Promise<Outcome<SheetSet>> {
  const sha256 = await sha256Of(new TextEncoder().encode(text))
  const origin = { text, sha256, meshFiles }
  try {
    const made = await makeSet({ bay, candidate, meshes, origin, settings, fonts: await faces() }, watch)
    if (!made.ok) return made
    return made.value ? { ok: true, value: made.value } : bad({ code: 'search-stopped' })
  } catch (error) {
    if (error instanceof FaultError) return bad(...error.faults)
    throw error
  }
}

let fetched: Promise<SheetFonts> | null = null

/** Fetched once for all sets. */
function faces(): Promise<SheetFonts> {
  fetched ??= Promise.all([bytesAt(regular), bytesAt(bold)]).then(
    ([regular, bold]) => ({ regular, bold }),
    (error) => {
      fetched = null
      throw error
    },
  )
  return fetched
}

async function bytesAt(address: string): Promise<Uint8Array> {
  const answer = await fetch(address).catch(() => null)
  if (!answer?.ok) throw new FaultError([{ code: 'file-unreadable', file: address.split('/').at(-1) }])
  return new Uint8Array(await answer.arrayBuffer())
}
