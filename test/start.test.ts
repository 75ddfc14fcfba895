import { type ChildProcess, spawn } from 'node:child_process'
import { chmodSync, cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { ensureBuilt, root } from '../bin/build.mjs'

let folder: string
let bay: string
const running: ChildProcess[] = []
beforeAll(async () => {
  await ensureBuilt(['window', 'serve', 'cli'])
  folder = mkdtempSync(join(tmpdir(), 'gapwright-start-'))
  cpSync(join(root, 'assets', 'tarnbeck'), join(folder, 'tarnbeck'), { recursive: true })
  bay = join(folder, 'tarnbeck', 'tarnbeck.bay.json')
})
afterEach(() => {
  for (const child of running.splice(0)) child.kill()
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Starts the launcher on a machine as described; its output grows in `said`. */
function start(args: string[], env: Record<string, string> = {}) {
  const bare = {
    ...process.env,
    DISPLAY: '',
    WAYLAND_DISPLAY: '',
    INIT_CWD: folder,
    ELECTRON_SKIP_BINARY_DOWNLOAD: '1',
    GAPWRIGHT_STATE: join(folder, 'state'),
  }
  const child = spawn(process.execPath, [join(root, 'bin', 'start.mjs'), ...args], {
    cwd: root,
    env: { ...bare, ...env },
  })
  running.push(child)
  const said = { out: '', err: '' }
  child.stdout.on('data', (chunk) => {
    said.out += chunk
  })
  child.stderr.on('data', (chunk) => {
    said.err += chunk
  })
  const ended = new Promise<number | null>((done) => child.on('close', done))
  return { child, said, ended }
}

describe('without a screen', () => {
  it('prints the gap ledger of the example and how to see the window', async () => {
    const { said, ended } = start([])
    expect(await ended).toBe(0)
    expect(said.out).toContain('beam')
    expect(said.out).toMatch(/clears/)
    expect(said.out).toContain('no screen')
    expect(said.out).toContain('npm start -- --serve')
  })

  it('prints that of the bay which was named, from where the user stands', async () => {
    const { said, ended } = start(['tarnbeck/tarnbeck.bay.json'])
    expect(await ended).toBe(0)
    expect(said.out).toContain('beam')
  })

  it('serves the window where asked to, until interrupted', async () => {
    const { child, said, ended } = start(['--serve', bay])
    await expect.poll(() => said.out, { timeout: 60_000 }).toMatch(/http:\S+/)
    const [address] = /http:\S+/.exec(said.out) ?? ['']
    const page = await fetch(address)
    expect(page.status).toBe(200)
    expect((await (await fetch(`${address}api/first`)).json()) as object).toMatchObject({ name: 'tarnbeck.bay.json' })
    child.kill('SIGINT')
    expect(await ended).toBe(0)
    await expect(fetch(address)).rejects.toThrow()
  })
})

describe('with a screen but without the desktop shell', () => {
  /** A program in a browser's place: notes how it was called, takes up the invitation, and leaves. */
  const standIn = () => {
    const program = join(folder, 'browser')
    const notes = join(folder, 'browser.json')
    writeFileSync(
      program,
      `#!${process.execPath}
const args = process.argv.slice(2)
const invitation = args.find((arg) => arg.startsWith('--app=')).slice(6)
fetch(invitation).then(async (page) => {
  const again = await fetch(invitation)
  const first = await (await fetch(page.url + 'api/first')).json()
  const profile = args.find((arg) => arg.startsWith('--user-data-dir=')).slice(16)
  const there = require('node:fs').existsSync(profile)
  const notes = { args, status: page.status, url: page.url, again: again.status, name: first.name, profile, there }
  require('node:fs').writeFileSync(${JSON.stringify(notes)}, JSON.stringify(notes))
})
`,
    )
    chmodSync(program, 0o755)
    return { program, notes }
  }

  it('opens the window in a browser, says why, and leaves nothing behind', async () => {
    const { program, notes } = standIn()
    const { said, ended } = start([bay], {
      DISPLAY: ':99',
      GAPWRIGHT_BROWSER: program,
      ELECTRON_OVERRIDE_DIST_PATH: '/nowhere',
    })
    expect(await ended).toBe(0)
    expect(said.out).toMatch(/Opening the window in browser: the desktop shell \(Electron\) is not here/)
    const called = JSON.parse(readFileSync(notes, 'utf8'))
    expect(called).toMatchObject({ status: 200, again: 404, name: 'tarnbeck.bay.json', there: true })
    // Other users of the machine can read a command line: what stands there must not open the window a second time.
    const [, token] = new URL(called.url).pathname.split('/')
    expect(called.args.join(' ')).not.toContain(token)
    expect(called.args).toContain('--no-first-run')
    // Else a machine without a graphics card has a window without a drawing.
    expect(called.args).toContain('--enable-unsafe-swiftshader')
    expect(called.args.includes('--no-sandbox')).toBe(process.getuid?.() === 0)
    expect(said.out.includes('--no-sandbox')).toBe(process.getuid?.() === 0)
    expect(() => readFileSync(called.profile)).toThrow(/ENOENT/)
  })

  it('prints the ledger when there is no browser either', async () => {
    const { said, ended } = start([bay], {
      DISPLAY: ':99',
      GAPWRIGHT_BROWSER: join(folder, 'none'),
      ELECTRON_OVERRIDE_DIST_PATH: '/nowhere',
    })
    expect(await ended).toBe(0)
    expect(said.out).toContain('beam')
    expect(said.out).toMatch(/No window: .*GAPWRIGHT_BROWSER names, is not there/)
  })
})

describe('bad usage ends with status 2, a sentence and no stack', () => {
  it.each([
    [['--bogus'], /Unknown option '--bogus'/],
    [['one.bay.json', 'two.bay.json'], /one bay at a time/],
    [['missing.bay.json'], /missing\.bay\.json: there is no such file/],
    [['.'], /there is no such file/],
  ])('%j', async (args, sentence) => {
    const { said, ended } = start(args)
    expect(await ended).toBe(2)
    expect(said.err).toMatch(sentence)
    expect(said.err + said.out).not.toMatch(/\n\s+at /)
  })

  it('and a bay that cannot be read with status 2 too', async () => {
    const broken = join(folder, 'broken.bay.json')
    writeFileSync(broken, '{')
    const { said, ended } = start([broken])
    expect(await ended).toBe(2)
    expect(said.err).toContain('broken.bay.json')
  })
})
