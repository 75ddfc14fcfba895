/**
 * `node bin/package.mjs [--linux | --win | --mac] [--dir]`: installers of the desktop program, by electron-builder as
 * electron-builder.yml says. It is fetched for the run, at a fixed version: it is large, wanted by few, and `npm ci` should
 * stay quick. Electron itself is fetched by it too, for the system that is packaged for.
 */
import { spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { dist, ensureBuilt, root } from './build.mjs'

const builder = 'electron-builder@26.17.0'

/**
 * Puts together what goes into the installer: the built page, main and preload, the examples, the notices. Everything is
 * bundled, so there are no packages beside it; those of the project would make the installer ten times as large.
 * @returns {Promise<string>} the folder
 */
export async function gatherApp() {
  await ensureBuilt(['window', 'main', 'preload'])
  const app = join(dist, 'app')
  rmSync(app, { recursive: true, force: true })
  mkdirSync(join(app, 'dist', 'node'), { recursive: true })
  const copy = (...path) => cpSync(join(root, ...path), join(app, ...path), { recursive: true })
  copy('dist', 'window')
  const wanted = /^(main|preload)\.(mjs|cjs|licences\.md)$/
  for (const file of readdirSync(join(dist, 'node')).filter((name) => wanted.test(name))) copy('dist', 'node', file)
  for (const example of ['tarnbeck', 'corvane']) copy('assets', example)
  const { name, version, description, license, main, type } = JSON.parse(
    readFileSync(join(root, 'package.json'), 'utf8'),
  )
  const author = { name: 'The Gapwright maintainers' }
  const whole = { name, productName: 'Gapwright', version, description, license, author, main, type }
  writeFileSync(join(app, 'package.json'), `${JSON.stringify(whole, null, 2)}\n`)
  return app
}

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  await gatherApp()
  const args = ['--yes', builder, '--config', 'electron-builder.yml', ...process.argv.slice(2)]
  const { status } = spawnSync('npx', args, { cwd: root, stdio: 'inherit', shell: process.platform === 'win32' })
  process.exit(status ?? 1)
}
