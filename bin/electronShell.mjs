/** The desktop shell's binary: where it is, and how to get it, since nothing is fetched when the project is installed. */
import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { root } from './build.mjs'

const folder = join(root, 'node_modules', 'electron')
/** Tells when fetching last failed, so that every start does not wait for the same answer. */
const memo = join(root, '.cache', 'electron-not-fetched')
const memoHolds = 60 * 60 * 1000

/** Without one more byte for this long, the line counts as dead. */
const stall = 20_000
const longest = 10 * 60_000

/** @returns {string | null} path of the shell's program, if it is installed */
export function electronProgram() {
  try {
    const name = readFileSync(join(folder, 'path.txt'), 'utf8').trim()
    const program = join(process.env.ELECTRON_OVERRIDE_DIST_PATH ?? join(folder, 'dist'), name)
    return existsSync(program) ? program : null
  } catch {
    return null
  }
}

/**
 * Gets the shell's program with the package's own installer, if that may be tried.
 * @param {(line: string) => void} say
 * @returns {Promise<{ program: string } | { why: string }>}
 */
export async function electronOrWhyNot(say) {
  const there = electronProgram()
  if (there) return { program: there }
  if (!existsSync(join(folder, 'install.js'))) return { why: 'the desktop shell (Electron) is not installed' }
  if (process.env.ELECTRON_SKIP_BINARY_DOWNLOAD)
    return { why: 'the desktop shell (Electron) is not here, and ELECTRON_SKIP_BINARY_DOWNLOAD says not to fetch it' }
  const last = statSync(memo, { throwIfNoEntry: false })?.mtimeMs ?? 0
  if (Date.now() - last < memoHolds)
    return {
      why: `the desktop shell (Electron) could not be fetched within the last hour (remove ${memo} to try at once)`,
    }
  say('The desktop shell (Electron) is not here yet: trying to fetch it, about 110 MB. Without it, a browser will do.')
  const trouble = await fetchElectron(say)
  const program = electronProgram()
  if (program) return { program }
  mkdirSync(join(root, '.cache'), { recursive: true })
  writeFileSync(memo, trouble)
  return { why: `the desktop shell (Electron) could not be fetched (${trouble})` }
}

/** Runs the installer and watches it grow; answers what went wrong, as far as it is known. */
async function fetchElectron(say) {
  const temporary = mkdtempSync(join(tmpdir(), 'gapwright-electron-'))
  const env = { ...process.env, TMPDIR: temporary, TEMP: temporary, TMP: temporary }
  const child = spawn(process.execPath, [join(folder, 'install.js')], { env, stdio: ['ignore', 'ignore', 'pipe'] })
  let told = ''
  child.stderr.on('data', (chunk) => {
    told += chunk
  })
  let why = ''
  let size = 0
  let grown = Date.now()
  const begin = grown
  const watch = setInterval(() => {
    const now = sizeOf(temporary) + sizeOf(join(folder, 'dist'))
    if (now !== size) {
      if (Math.floor(now / 2e7) !== Math.floor(size / 2e7)) say(`  ${Math.round(now / 1e6)} MB`)
      size = now
      grown = Date.now()
    }
    if (Date.now() - grown > stall) why = 'nothing came for 20 seconds'
    else if (Date.now() - begin > longest) why = 'it took longer than 10 minutes'
    if (why) child.kill()
  }, 500)
  await new Promise((done) => child.on('close', done).on('error', done))
  clearInterval(watch)
  rmSync(temporary, { recursive: true, force: true })
  // The first line of the installer's error names the cause; the rest is its stack.
  return why || told.split('\n')[0].slice(0, 200) || 'the installer gave no reason'
}

function sizeOf(folder) {
  let size = 0
  try {
    for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true }))
      if (entry.isFile()) size += statSync(join(entry.parentPath, entry.name), { throwIfNoEntry: false })?.size ?? 0
  } catch {
    // Not there yet, or just being moved.
  }
  return size
}
