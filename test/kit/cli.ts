import type { Io } from '../../app/command/io.ts'
import { run } from '../../app/command/run.ts'

export interface Ended {
  readonly status: number
  readonly out: string
  readonly err: string
}

/** The command line within this process: what it would print, and its exit status. */
export async function cli(
  argv: readonly string[],
  terminal: Partial<Pick<Io, 'columns' | 'colour' | 'ascii'>> = {},
): Promise<Ended> {
  let out = ''
  let err = ''
  const io: Io = {
    out: (text) => {
      out += text
    },
    err: (text) => {
      err += text
    },
    colour: false,
    ascii: false,
    ...terminal,
  }
  return { status: await run(argv, io), out, err }
}
