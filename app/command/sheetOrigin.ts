import { good, type Outcome } from '../../core/fault.ts'
import { type OpenBay, readBeside } from '../files/bayFolder.ts'
import type { MeshFile, SheetOrigin } from '../sheet/settings.ts'
import { meshFileOf } from '../worker/meshFile.ts'

/** The bay and its mesh files as sheets name them and take them along. */
export async function sheetOrigin(path: string, { text, sha256, meshSha256 }: OpenBay): Promise<Outcome<SheetOrigin>> {
  const meshFiles = new Map<string, MeshFile>()
  for (const [file, known] of meshSha256) {
    const bytes = await readBeside(path, file)
    if (!bytes.ok) return bytes
    const found = await meshFileOf(bytes.value)
    // Written anew in this very moment: what is inside must be what was computed with.
    meshFiles.set(file, found.sha256 === known ? found : { sha256: known, bytes: null })
  }
  return good({ text, sha256, meshFiles })
}
