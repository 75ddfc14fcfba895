/** The browser's own file dialogs, with what there is: the File System Access calls, or a file input and a download. */

export interface SaveHandle {
  readonly name: string
  createWritable(): Promise<{
    write(content: string | Uint8Array): Promise<void>
    close(): Promise<void>
    abort(): Promise<void>
  }>
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

export interface FolderHandle {
  readonly name: string
  getFileHandle(name: string, options?: { create: boolean }): Promise<SaveHandle>
  getDirectoryHandle(name: string, options?: { create: boolean }): Promise<FolderHandle>
}

/** Not in the type library yet; Chromium has them, others partly. */
interface FileSystemAccess {
  showOpenFilePicker?(options: object): Promise<OpenHandle[]>
  showSaveFilePicker?(options: object): Promise<OpenHandle>
  showDirectoryPicker?(options: object): Promise<FolderHandle>
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

/** Asks for a folder to write in; null when the user cancels. */
export async function pickFolder(): Promise<FolderHandle | null> {
  try {
    return (await access().showDirectoryPicker?.({ mode: 'readwrite' })) ?? null
  } catch (error) {
    if (isCancel(error)) return null
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
  '.zip': 'application/zip',
}

export function download(content: string | Uint8Array, name: string): void {
  const link = document.createElement('a')
  link.href = lentAddress(content, name, 10_000)
  link.download = name
  link.click()
}

/** Opens a PDF in a tab of its own, where the browser's reader prints it. @returns false where the browser opens none */
export const openPdfTab = (pdf: Uint8Array, name: string): boolean => open(lentAddress(pdf, name, 600_000)) !== null

/** Not taken back at once: whoever reads the address does so after this turn, and a reader's tab for longer. */
function lentAddress(content: string | Uint8Array, name: string, milliseconds: number): string {
  const type = mediaTypes[/\.[a-z0-9]+$/i.exec(name)?.[0].toLowerCase() ?? ''] ?? plain
  const address = URL.createObjectURL(new Blob([content as BlobPart], { type }))
  setTimeout(() => URL.revokeObjectURL(address), milliseconds)
  return address
}

const isCancel = (error: unknown): boolean => error instanceof DOMException && error.name === 'AbortError'
