import { FaultError } from '../../core/fault.ts'
import type { Host, OpenedBay } from '../../app/host.ts'

/** Surroundings that keep nothing and find nothing, with what a test wants of them instead. */
export function hostDouble(over: Partial<Host> = {}): Host {
  const written = (text: string, name: string, token: string | null): OpenedBay => ({
    token: token ?? 'new',
    name,
    text,
    writable: true,
  })
  return {
    kind: 'browser',
    first: async () => null,
    open: async () => null,
    save: async (text, name, token) => written(text, name, token),
    beside: async (_, file) => {
      throw new FaultError([{ code: 'mesh-missing', file }])
    },
    addBeside: async (_, file) => ({ file, onDisk: true }),
    saveFile: async (_, name) => name,
    print: async () => {},
    blank: async (name, text) => ({ token: `blank ${name}`, name, text, writable: false }),
    standing: async () => 'same',
    again: async (token) => written('', token, token),
    recent: async () => [],
    openRecent: async () => null,
    forgetRecent: async () => {},
    journal: {
      keep: async () => {},
      drop: async () => {},
      found: async () => [],
      take: async () => {
        throw new FaultError([{ code: 'work-gone' }])
      },
    },
    ...over,
  }
}
