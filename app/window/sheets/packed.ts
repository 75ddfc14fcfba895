import { zip } from 'fflate'
import type { FileOut } from '../../host.ts'

/** Files in one file. Their bytes alone count: the same files make the same one. */
export const packed = (files: readonly FileOut[]): Promise<Uint8Array> =>
  new Promise((done, failed) => {
    const entries = Object.fromEntries(files.map(({ name, bytes }) => [name, bytes]))
    // The earliest time that such a file can hold. Source: the format's own note, from memory.
    zip(entries, { mtime: new Date(1980, 0, 1) }, (error, bytes) => (error ? failed(error) : done(bytes)))
  })
