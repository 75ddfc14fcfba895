/**
 * Builds what is run: the page (`dist/window`) and the programs outside it (`dist/node`). Installing builds nothing
 * (install scripts are off), so every launcher calls `ensureBuilt` first; it is quick when nothing has changed.
 */
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { nodeConfig, nodeEntries } from './vite/node.mjs'
import { windowConfig } from './vite/window.mjs'

export const root = dirname(dirname(fileURLToPath(import.meta.url)))
export const dist = join(root, 'dist')

const nodeTargets = ['cli', 'serve', 'main', 'preload']
export const targets = ['window', ...nodeTargets]

const outputOf = (target) =>
  target === 'window' ? join(dist, 'window', 'index.html') : join(dist, 'node', nodeEntries[target].file)
const stampOf = (target) => join(dist, 'stamps', `${target}.json`)

/** Source files that a build can depend on; tests are left out, so that writing one rebuilds nothing. */
function sources(target) {
  const folders = ['core', 'app', 'bin/vite', ...(target === 'bench' ? ['test/bench', 'test/kit'] : [])]
  const files = [join(root, 'package-lock.json'), fileURLToPath(import.meta.url)]
  for (const folder of folders) {
    if (!existsSync(join(root, folder))) continue
    for (const entry of readdirSync(join(root, folder), { recursive: true, withFileTypes: true }))
      if (entry.isFile() && !/\.test\.tsx?$/.test(entry.name)) files.push(join(entry.parentPath, entry.name))
  }
  return files.filter((file) => existsSync(file)).sort()
}

/** Cheap look first (size and time of each file), contents only where that differs: a fresh clone changes all times. */
function fingerprint(target) {
  const files = sources(target)
  const quick = createHash('sha256')
  for (const file of files) {
    const { size, mtimeMs } = statSync(file)
    quick.update(`${relative(root, file)}\0${size}\0${mtimeMs}\n`)
  }
  const content = () => {
    const whole = createHash('sha256')
    for (const file of files)
      whole
        .update(`${relative(root, file)}\0`)
        .update(readFileSync(file))
        .update('\0')
    return whole.digest('hex')
  }
  return { quick: quick.digest('hex'), content }
}

function readStamp(target) {
  try {
    return JSON.parse(readFileSync(stampOf(target), 'utf8'))
  } catch {
    return null
  }
}

function writeStamp(target, stamp) {
  mkdirSync(dirname(stampOf(target)), { recursive: true })
  const temporary = `${stampOf(target)}.${process.pid}.tmp`
  writeFileSync(temporary, JSON.stringify(stamp))
  renameSync(temporary, stampOf(target))
}

/** Whether the built file is there and made from the sources as they are now. */
export function isFresh(target) {
  // Installed without sources: what was packed is what there is.
  if (!existsSync(join(root, 'app'))) return true
  const stamp = readStamp(target)
  if (!stamp || !existsSync(outputOf(target))) return false
  const now = fingerprint(target)
  if (stamp.quick === now.quick) return true
  if (stamp.content !== now.content()) return false
  writeStamp(target, { quick: now.quick, content: stamp.content })
  return true
}

/** Builds into a folder of its own and moves the result into place, so that nobody ever runs a half-written file. */
async function buildTarget(target) {
  const { build } = await import('vite')
  const { quick, content } = fingerprint(target)
  const stamp = { quick, content: content() }
  const fresh = join(dist, `.new-${target}-${process.pid}`)
  rmSync(fresh, { recursive: true, force: true })
  // Whoever builds, a test runner too, builds what users get: libraries behave otherwise where this says 'test'.
  const mode = process.env.NODE_ENV
  process.env.NODE_ENV = 'production'
  try {
    if (target === 'window') {
      await build(windowConfig(root, fresh))
      const former = join(dist, `.old-window-${process.pid}`)
      if (existsSync(join(dist, 'window'))) renameSync(join(dist, 'window'), former)
      renameSync(fresh, join(dist, 'window'))
      rmSync(former, { recursive: true, force: true })
    } else {
      await build(nodeConfig(root, target, fresh))
      mkdirSync(join(dist, 'node'), { recursive: true })
      for (const file of readdirSync(fresh)) renameSync(join(fresh, file), join(dist, 'node', file))
    }
    writeStamp(target, stamp)
  } finally {
    if (mode === undefined) delete process.env.NODE_ENV
    else process.env.NODE_ENV = mode
    rmSync(fresh, { recursive: true, force: true })
  }
}

const pause = (ms) => new Promise((done) => setTimeout(done, ms))

const alive = (pid) => {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error.code === 'EPERM'
  }
}

/** A lock whose holder has died, or that is older than any build takes. */
function isAbandoned(lock) {
  try {
    const holder = Number(readFileSync(lock, 'utf8'))
    const age = Date.now() - statSync(lock).mtimeMs
    return age > 5 * 60_000 || (holder > 0 ? !alive(holder) : age > 5000)
  } catch {
    // Given back just now.
    return false
  }
}

const taken = (file) => {
  try {
    writeFileSync(file, String(process.pid), { flag: 'wx' })
    return true
  } catch (error) {
    if (error.code === 'EEXIST') return false
    throw error
  }
}

/**
 * Removes an abandoned lock, one at a time: of two that found the same one abandoned, the second would else remove the
 * lock that the first has just taken.
 */
function clearAbandoned(lock) {
  if (!isAbandoned(lock)) return
  const broom = `${lock}-broom`
  if (!taken(broom)) {
    if (isAbandoned(broom)) rmSync(broom, { force: true })
    return
  }
  if (isAbandoned(lock)) rmSync(lock, { force: true })
  rmSync(broom, { force: true })
}

/** One build at a time, also across processes: tests start many programs at once. */
async function locked(work) {
  const lock = join(dist, '.lock')
  mkdirSync(dist, { recursive: true })
  while (!taken(lock)) {
    clearAbandoned(lock)
    await pause(100)
  }
  try {
    return await work()
  } finally {
    rmSync(lock, { force: true })
  }
}

/**
 * Builds those of the targets that are missing or older than their sources.
 * @param {string[]} wanted of `window`, `cli`, `serve`, `main`, `preload`, `bench`
 * @returns {Promise<string[]>} what was built
 */
export async function ensureBuilt(wanted) {
  if (wanted.every(isFresh)) return []
  return locked(async () => {
    const stale = wanted.filter((target) => !isFresh(target))
    if (stale.length > 0) process.stderr.write(`building ${stale.join(', ')} …\n`)
    for (const target of stale) await buildTarget(target)
    return stale
  })
}

/** Builds the programs outside the page, whether or not they look fresh. */
export const buildNode = (names = nodeTargets) =>
  locked(async () => {
    for (const name of names) await buildTarget(name)
  })

/** Builds the page. */
export const buildWindow = () => locked(() => buildTarget('window'))

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  const asked = process.argv.slice(2)
  const unknown = asked.filter((name) => !targets.includes(name) && name !== 'bench')
  if (unknown.length > 0) {
    process.stderr.write(`build: no target ${unknown.join(', ')}; there are ${targets.join(', ')}, bench\n`)
    process.exit(2)
  }
  for (const target of asked.length > 0 ? asked : targets) {
    const begin = performance.now()
    try {
      await locked(() => buildTarget(target))
    } catch (error) {
      process.stderr.write(`build: ${target}: ${error instanceof Error ? error.message : error}\n`)
      process.exit(1)
    }
    process.stdout.write(
      `${target.padEnd(8)} ${((performance.now() - begin) / 1000).toFixed(2)} s  ${relative(root, outputOf(target))}\n`,
    )
  }
}
