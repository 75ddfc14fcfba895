// Builds the command line, Electron's main and preload, and the window. Launchers call it on first use, since
// `npm ci` builds nothing. A stamp with the newest source time tells whether a build is still good.
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'

export const root = fileURLToPath(new URL('..', import.meta.url))
const sources = ['core', 'app', 'vite.node.config.ts', 'vite.window.config.ts', 'package-lock.json']

function newest(path) {
  const stat = statSync(path)
  if (!stat.isDirectory()) return stat.mtimeMs
  let time = stat.mtimeMs
  for (const name of readdirSync(path)) if (!name.includes('.test.')) time = Math.max(time, newest(join(path, name)))
  return time
}

function stampOf() {
  return String(Math.max(...sources.map((name) => join(root, name)).filter(existsSync).map(newest)))
}

async function buildWith(config, stampName, force) {
  const stampFile = join(root, 'dist', stampName)
  const stamp = stampOf()
  if (!force && existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp) return false
  const { build } = await import('vite')
  await build({ configFile: join(root, config), logLevel: 'error' })
  mkdirSync(join(root, 'dist'), { recursive: true })
  writeFileSync(stampFile, stamp)
  return true
}

/** Command line, main and preload → dist/node. Answers whether anything had to be built. */
export async function buildNode({ force = false } = {}) {
  const modules = await buildWith('vite.node.config.ts', 'node.stamp', force)
  return modules
}

/** The page and its worker → dist/window. */
export const buildWindow = ({ force = false } = {}) => buildWith('vite.window.config.ts', 'window.stamp', force)

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  await buildNode({ force: true })
  await buildWindow({ force: true })
}
