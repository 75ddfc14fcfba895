/** What an operating system's error means, and what to do about it. */
interface Reason {
  readonly got: string
  /** What would be needed, as something to do. */
  readonly expected: string
}

const elsewhere = 'save it elsewhere'
const noFolder: Reason = {
  got: 'its folder is not there',
  expected: `its folder: bring it back (a stick or network drive that was taken away?), or ${elsewhere}`,
}
const noPermission: Reason = {
  got: 'no permission',
  expected: `a place that can be written: change the permission, or ${elsewhere}`,
}
const full: Reason = { got: 'a full disk', expected: `some room on the disk: clear some, or ${elsewhere}` }
const held: Reason = {
  got: 'a file that another program holds',
  expected: `the other program to let go of it: close it there and try again, or ${elsewhere}`,
}
const place = (got: string): Reason => ({ got, expected: `a place that can be written: ${elsewhere}` })

const reasons: Record<string, Reason> = {
  ENOENT: noFolder,
  ENOTDIR: noFolder,
  EACCES: noPermission,
  EPERM: noPermission,
  EROFS: place('a read-only disk'),
  ENOSPC: full,
  EDQUOT: full,
  EBUSY: held,
  ETXTBSY: held,
  EAGAIN: held,
  EISDIR: place('a folder of that name'),
  ENAMETOOLONG: place('a name that is too long'),
  EMFILE: { got: 'too many open files', expected: 'fewer programs at once: close some and try again' },
  ELOOP: place('a link that leads in a circle'),
  EIO: place('a disk that fails'),
}

const codeOf = (error: unknown): string => (error instanceof Error && 'code' in error ? String(error.code) : '')

/** An operating system's error in words, without its path and number. */
export const reasonText = (error: unknown): string => reasons[codeOf(error)]?.got ?? (codeOf(error) || String(error))

/** What would be needed for the writing to succeed, as something to do. */
export const whatToDo = (error: unknown): string =>
  reasons[codeOf(error)]?.expected ?? `a place that can be written: ${elsewhere}`
