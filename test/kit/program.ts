import { type ChildProcess, spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'

/* The program as people start it: a process of its own, with its streams and its exit status. */
const root = fileURLToPath(new URL('../..', import.meta.url))

export const start = (...args: string[]): ChildProcess =>
  spawn(process.execPath, ['bin/gapwright.mjs', ...args], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, LANG: 'en_GB.UTF-8', LC_ALL: '' },
  })

export interface Ended {
  readonly status: number | null
  readonly out: string
  readonly err: string
}

/** @param onErr called with all that stderr has said so far */
export function ended(child: ChildProcess, onErr: (err: string) => void = () => {}): Promise<Ended> {
  let out = ''
  let err = ''
  child.stdout?.on('data', (text) => {
    out += text
  })
  child.stderr?.on('data', (text) => {
    err += text
    onErr(err)
  })
  return new Promise((done) => child.on('close', (status) => done({ status, out, err })))
}

/**
 * Ctrl-C as soon as stderr has said something.
 * @returns also how long it took from there to the end, ms; NaN where it never said so
 */
export async function interrupted(said: RegExp, ...args: string[]): Promise<Ended & { milliseconds: number }> {
  const child = start(...args)
  let pressed = Number.NaN
  const end = await ended(child, (err) => {
    if (!Number.isNaN(pressed) || !said.test(err)) return
    pressed = performance.now()
    child.kill('SIGINT')
  })
  return { ...end, milliseconds: performance.now() - pressed }
}
