import type { ChosenFolder, FileOut, Host } from '../../host.ts'
import { FaultError } from '../../../core/fault.ts'
import { type FolderHandle, pickFolder } from './pickers.ts'
import { writeTrouble } from './writeTrouble.ts'

interface Chosen {
  readonly inside: FolderHandle
  readonly name: string
}

/** Folders of files by the browser's access to the disk; nothing where it has none. */
export function browserFolders(): Pick<Host, 'chooseFolder' | 'saveFolder'> {
  if (!('showDirectoryPicker' in globalThis)) return {}
  const places = new Map<string, Chosen>()
  return {
    async chooseFolder(name: string): Promise<ChosenFolder | null> {
      const inside = await pickFolder()
      if (inside === null) return null
      const token = `folder-${places.size + 1}`
      places.set(token, { inside, name })
      const taken = await inside.getDirectoryHandle(name).then(
        () => true,
        () => false,
      )
      return { token, name, taken }
    },
    async saveFolder(token: string, files: readonly FileOut[]): Promise<string> {
      const chosen = places.get(token)
      if (!chosen) throw new FaultError([{ code: 'call-refused', expected: 'a folder that was chosen in this window' }])
      await writeAll(chosen, files)
      return chosen.name
    },
  }
}

/** The browser writes to copies and exchanges them on closing: none is closed before all are written. */
async function writeAll({ inside, name }: Chosen, files: readonly FileOut[]): Promise<void> {
  const open: { close(): Promise<void>; abort(): Promise<void> }[] = []
  let at = name
  try {
    const folder = await inside.getDirectoryHandle(name, { create: true })
    for (const file of files) {
      at = `${name}/${file.name}`
      const steps = file.name.split('/')
      let home = folder
      for (const step of steps.slice(0, -1)) home = await home.getDirectoryHandle(step, { create: true })
      const stream = await (await home.getFileHandle(steps.at(-1) as string, { create: true })).createWritable()
      open.push(stream)
      await stream.write(file.bytes)
    }
    for (const stream of open) await stream.close()
  } catch (error) {
    await Promise.all(open.map((stream) => stream.abort().catch(() => {})))
    const [got, expected] = writeTrouble(error)
    throw new FaultError([{ code: 'file-unwritable', file: at, expected, got }])
  }
}
