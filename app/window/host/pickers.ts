/** The browser's own file dialogs, with what there is: the File System Access calls, or a file input and a download. */

export interface SaveHandle {
  readonly name: string
  createWritable(): Promise<{ write(content: string | Uint8Array): Promise<void>; close(): Promise<void> }>
  /** The browser asks once more before a handle that was kept from earlier may be used. */
  requestPermission?(wish: { mode: 'readwrite' }): Promise<'granted' | 'denied' | 'prompt'>
}

export interface OpenHandle extends SaveHandle {
  getFile(): Promise<File>
}

export interface FileSource {
  readonly file: File
  /** For writing back; null where the browser cannot. */
  readonly handle: OpenHandle | null
}

/** Not in the type library yet; Chromium has them, others partly. */
interface FileSystemAccess {
  showOpenFilePicker?(options: object): Promise<OpenHandle[]>
  showSaveFilePicker?(options: object): Promise<OpenHandle>
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
export async function pickSaveHandle(name: string): Promise<OpenHandle | 'cancelled' | 'unavailable'> {
  const { showSaveFilePicker } = access()
  if (!showSaveFilePicker) return 'unavailable'
  try {
    return await showSaveFilePicker({ suggestedName: name, types: typesFor(name) })
  } catch (error) {
    if (isCancel(error)) return 'cancelled'
    throw error
  }
}

function typesFor(name: string): object[] | undefined {
  const extension = /\.[a-z0-9]{1,8}$/i.exec(name)?.[0].toLowerCase()
  if (extension === undefined) return undefined
  return extension === '.json' ? [bayType] : [{ accept: { [mediaTypes[extension] ?? plain]: [extension] } }]
}

const plain = 'application/octet-stream'
const mediaTypes: Record<string, string> = {
  '.json': 'application/json',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.csv': 'text/csv',
  '.txt': 'text/plain',
  '.pdf': 'application/pdf',
  '.dxf': 'image/vnd.dxf',
}

export function download(content: string | Uint8Array, name: string): void {
  const link = document.createElement('a')
  const type = mediaTypes[/\.[a-z0-9]+$/i.exec(name)?.[0].toLowerCase() ?? ''] ?? plain
  link.href = URL.createObjectURL(new Blob([content as BlobPart], { type }))
  link.download = name
  link.click()
  // Not at once: the download reads the address after this turn.
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000)
}

const isCancel = (error: unknown): boolean => error instanceof DOMException && error.name === 'AbortError'
