/** What the browser's errors mean, and what to do. Source of the names: File System Standard, from memory. */
export function writeTrouble(error: unknown): [got: string, expected: string] {
  const name = error instanceof DOMException ? error.name : ''
  if (name === 'QuotaExceededError') return ['a full disk', 'some room on the disk: clear some, or save it elsewhere']
  if (name === 'NotAllowedError') return ['no permission', 'leave to write: allow it when the browser asks']
  if (name === 'NoModificationAllowedError')
    return ['a file that another program holds', 'the other program to let go of it, or save it elsewhere']
  if (name === 'NotFoundError') return ['its folder is not there', 'its folder: bring it back, or save it elsewhere']
  return [error instanceof Error ? error.message : String(error), 'a place that can be written: save it elsewhere']
}
