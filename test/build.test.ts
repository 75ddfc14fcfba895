import { execFile } from 'node:child_process'
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { root } from '../bin/build.mjs'

/** A small project of its own, built by the real builder. */
let project: string
const source = () => join(project, 'app', 'command', 'cli.ts')
beforeAll(() => {
  project = mkdtempSync(join(tmpdir(), 'gapwright-build-'))
  mkdirSync(join(project, 'app', 'command'), { recursive: true })
  mkdirSync(join(project, 'core'))
  for (const part of ['bin/build.mjs', 'bin/vite', 'package-lock.json', 'package.json'])
    cpSync(join(root, part), join(project, part), { recursive: true })
  symlinkSync(join(root, 'node_modules'), join(project, 'node_modules'), 'junction')
  writeFileSync(source(), 'const said: string = "one"\nprocess.stdout.write(said)\n')
})
afterAll(() => rmSync(project, { recursive: true, force: true }))

const run = promisify(execFile)
const ensureBuilt = async (): Promise<string[]> => {
  const code =
    "const { ensureBuilt } = await import('./bin/build.mjs'); console.log(JSON.stringify(await ensureBuilt(['cli'])))"
  const { stdout } = await run(process.execPath, ['--input-type=module', '-e', code], { cwd: project })
  return JSON.parse(stdout) as string[]
}
const said = async () => (await run(process.execPath, ['dist/node/cli.mjs'], { cwd: project })).stdout

it('builds on first use and then leaves it alone', async () => {
  expect(await ensureBuilt()).toEqual(['cli'])
  expect(await said()).toBe('one')
  expect(await ensureBuilt()).toEqual([])
})

it('does not build for a new time on the same text, nor for a test', async () => {
  utimesSync(source(), new Date(), new Date())
  expect(await ensureBuilt()).toEqual([])
  writeFileSync(join(project, 'app', 'command', 'cli.test.ts'), 'export {}')
  expect(await ensureBuilt()).toEqual([])
})

it('builds again after a change, also one of the same length', async () => {
  writeFileSync(source(), readFileSync(source(), 'utf8').replace('one', 'two'))
  expect(await ensureBuilt()).toEqual(['cli'])
  expect(await said()).toBe('two')
})

it('builds again when the built file is gone', async () => {
  rmSync(join(project, 'dist', 'node'), { recursive: true })
  expect(await ensureBuilt()).toEqual(['cli'])
  expect(await said()).toBe('two')
})

it('many at once build one time, and a lock that was left behind holds nobody up', async () => {
  writeFileSync(source(), readFileSync(source(), 'utf8').replace('two', 'three'))
  // A process number that cannot be: larger than any system gives.
  writeFileSync(join(project, 'dist', '.lock'), '99999999')
  const built = await Promise.all([ensureBuilt(), ensureBuilt(), ensureBuilt()])
  expect(built.flat()).toEqual(['cli'])
  expect(await said()).toBe('three')
  expect(existsSync(join(project, 'dist', '.lock'))).toBe(false)
})

it('a source that cannot be built leaves what was there', async () => {
  writeFileSync(source(), 'const = 1')
  await expect(ensureBuilt()).rejects.toThrow()
  expect(await said()).toBe('three')
  expect(existsSync(join(project, 'dist', '.lock'))).toBe(false)
})
