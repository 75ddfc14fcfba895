import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { root } from '../bin/build.mjs'
import { gatherApp } from '../bin/package.mjs'

const readJson = (...path: string[]) => JSON.parse(readFileSync(join(root, ...path), 'utf8'))

it('what goes into an installer is whole: page, main and preload with their notices, examples, and no packages', async () => {
  const app = await gatherApp()
  const { main, version, type, dependencies } = JSON.parse(readFileSync(join(app, 'package.json'), 'utf8'))
  expect({ version, type, dependencies }).toEqual({ version: readJson('package.json').version, type: 'module' })
  expect(existsSync(join(app, main))).toBe(true)
  const files = readdirSync(app, { recursive: true }).map((file) => String(file).replaceAll('\\', '/'))
  for (const wanted of [
    'dist/node/preload.cjs',
    'dist/node/main.licences.md',
    'dist/window/index.html',
    'dist/window/licences.md',
    'assets/tarnbeck/tarnbeck.bay.json',
    'assets/tarnbeck/bumper.ply.gz',
  ])
    expect(files).toContain(wanted)
  expect(files.filter((file) => /node_modules|\.test\.|\.ts$/.test(file))).toEqual([])
  // The bundle stands alone: nothing but Node's own modules and the shell is left to be found.
  const left = [...readFileSync(join(app, main), 'utf8').matchAll(/^import .* from "([^"]+)"/gm)].map(
    ([, from]) => from,
  )
  expect(left.length).toBeGreaterThan(3)
  expect(left.filter((from) => !from.startsWith('node:') && from !== 'electron')).toEqual([])
})

it('is configured for the shell that is tested with, and for every system', () => {
  const config = readFileSync(join(root, 'electron-builder.yml'), 'utf8')
  expect(config).toContain(`electronVersion: ${readJson('package.json').dependencies.electron}\n`)
  for (const wanted of ['AppImage', 'deb', 'nsis', 'dmg', 'ext: bay.json', '"!**/node_modules/**"'])
    expect(config).toContain(wanted)
  expect(existsSync(join(root, 'assets', 'icon', 'gapwright.png'))).toBe(true)
})
