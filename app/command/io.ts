import { reasonText } from '../files/diskReason.ts'

/** Where a command's words go. Stdout carries the answer and nothing else; messages and progress go to stderr. */
export interface Io {
  readonly out: (text: string) => void
  readonly err: (text: string) => void
  /** Width to fit tables in; undefined where stdout is no terminal. */
  readonly columns?: number
  /** Width of stderr where it is a terminal on which a line can be written over; undefined where it is not. */
  readonly rewritableColumns?: number
  /** Whether stdout takes colours. */
  readonly colour: boolean
  /** Plain ASCII instead of marks and mathematical signs. */
  readonly ascii: boolean
}

type Environment = Readonly<Record<string, string | undefined>>

/** Exit status where the answer never arrived: as for bad input, there is none. */
const lost = 2

/** The process's own streams, in the terminal's manner. */
export function processIo({
  stdout,
  stderr,
  env,
  exit,
}: Pick<NodeJS.Process, 'stdout' | 'stderr' | 'env' | 'exit'>): Io {
  const ascii = needsAscii(env)
  const shown = ascii ? toAscii : (text: string) => text
  stdout.on('error', (error: NodeJS.ErrnoException) => {
    // Someone who reads only the beginning (`| head`) closes the pipe; that is no error.
    if (error.code === 'EPIPE') return
    stderr.write(shown(`The answer could not be written: ${reasonText(error)}.\n`))
    exit(lost)
  })
  // Where messages cannot be written there is nobody to tell; the status still says how it ended.
  stderr.on('error', () => {})
  return {
    out: (text) => {
      stdout.write(shown(text))
    },
    err: (text) => {
      stderr.write(shown(text))
    },
    columns: stdout.isTTY ? stdout.columns : undefined,
    rewritableColumns: stderr.isTTY && env.TERM !== 'dumb' ? stderr.columns : undefined,
    colour: takesColour(env, stdout.isTTY),
    ascii,
  }
}

/** NO_COLOR (no-color.org) in any non-empty form switches colours off; FORCE_COLOR is left to other programs. */
export const takesColour = (env: Environment, terminal: boolean): boolean =>
  terminal && !env.NO_COLOR && env.TERM !== 'dumb'

/** A terminal that says it is not UTF-8; one that says nothing is taken for a modern one. */
export function needsAscii(env: Environment): boolean {
  const locale = env.LC_ALL || env.LC_CTYPE || env.LANG || ''
  return env.TERM === 'dumb' || env.TERM === 'linux' || (locale !== '' && !/utf-?8/i.test(locale))
}

const asciiFor: Record<string, string> = {
  ...{ '✓': 'v', '◖': '<', '✕': 'x', '−': '-', '–': '-', '…': '...', '≤': '<=', '≥': '>=', '±': '+/-', '×': 'x' },
  ...{
    '″': '"',
    '′': "'",
    '“': '"',
    '”': '"',
    '’': "'",
    '·': '-',
    '³': '3',
    '²': '2',
    '∞': 'inf',
    '─': '-',
    '°': ' deg',
    '⌀': 'dia ',
    '\u202f': ' ',
  },
}

/** The same text for a terminal without such signs. Names from a bay are the user's own and stay. */
export const toAscii = (text: string): string =>
  text.replace(/[✓◖✕−–…≤≥±×″′“”’·³²∞─°⌀\u202f]/g, (sign) => asciiFor[sign])
