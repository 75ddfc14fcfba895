/** The browser's own file dialogs, with what there is: the File System Access calls, or a file input and a download. */

export interface SaveHandle {
  readonly name: string
  createWritable(): Promise<{ write(text: string): Promise<void>; close(): Promise<void> }>
}

export interface FileSource {
  readonly file: File
  /** For writing back; null where the browser cannot. */
  readonly handle: SaveHandle | null
}

interface OpenHandle extends SaveHandle {
  getFile(): Promise<File>
}

/** Not in the type library yet; Chromium has them, others partly. */
interface FileSystemAccess {
  showOpenFilePicker?(options: object): Promise<OpenHandle[]>
  showSaveFilePicker?(options: object): Promise<SaveHandle>
}
const access = (): FileSystemAccess => globalThis as FileSystemAccess

const bayType = { description: 'Bay', accept: { 'application/json': ['.json'] } }
const meshType = { description: 'Meshes', accept: { 'model/mesh': ['.stl', '.obj', '.ply', '.glb', '.gz'] } }
const bayAndMeshes = {
  description: 'Bay and its meshes',
  accept: { ...bayType.accept, ...meshType.accept },
}

/** Asks for a bay and, at the same time, the meshes it names; empty when the user cancels. */
export async function pickFiles(): Promise<readonly FileSource[]> {
  const { showOpenFilePicker } = access()
  if (!showOpenFilePicker) return pickWithInput()
  try {
    const handles = await showOpenFilePicker({ multiple: true, types: [bayAndMeshes, bayType] })
    return await Promise.all(handles.map(async (handle) => ({ file: await handle.getFile(), handle })))
  } catch (error) {
    if (isCancel(error)) return []
    throw error
  }
}

function pickWithInput(): Promise<readonly FileSource[]> {
  return new Promise((done) => {
    const input = document.createElement('input')
    input.type = 'file'
    input.multiple = true
    input.accept = Object.values(bayAndMeshes.accept).flat().join(',')
    input.addEventListener('change', () => done([...(input.files ?? [])].map((file) => ({ file, handle: null }))))
    input.addEventListener('cancel', () => done([]))
    input.click()
  })
}

/** Asks where to save; 'unavailable' where the browser can only download. */
export async function pickSaveHandle(name: string): Promise<SaveHandle | 'cancelled' | 'unavailable'> {
  const { showSaveFilePicker } = access()
  if (!showSaveFilePicker) return 'unavailable'
  try {
    return await showSaveFilePicker({ suggestedName: name, types: [bayType] })
  } catch (error) {
    if (isCancel(error)) return 'cancelled'
    throw error
  }
}

export function download(text: string, name: string): void {
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }))
  link.download = name
  link.click()
  // Not at once: the download reads the address after this turn.
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000)
}

const isCancel = (error: unknown): boolean => error instanceof DOMException && error.name === 'AbortError'
