/**
 * Why a mesh's `file` may not be read, as what was expected; null where it may.
 * A bay comes from a stranger: its meshes lie in its own folder or below, on every system it may be opened on.
 */
export function meshFileTrouble(file: string): string | null {
  const expected = "a path inside the bay's folder, with / between folders"
  // biome-ignore lint/suspicious/noControlCharactersInRegex: just these are to be refused
  if (/[\u0000-\u001f\u007f\\:*?"<>|]/.test(file)) return `${expected}, without any of \\ : * ? " < > |`
  if (file.length > 500) return `${expected}, of at most 500 characters`
  const folders = file.split('/')
  if (folders.some((folder) => folder === '')) return `${expected}, neither absolute nor with empty steps`
  if (folders.some((folder) => /^[. ]+$/.test(folder) || /[. ]$/.test(folder)))
    return `${expected}, without . or .. and without names that end in a point or space`
  if (folders.some((folder) => /^(con|prn|aux|nul|com\d|lpt\d)(\..*)?$/i.test(folder)))
    return `${expected}, without device names`
  return null
}
