/**
 * `npm start [BAY]`: opens the window. In the desktop shell where that can be had, else as an app window of a browser
 * over a loopback server; where there is no screen, prints the gap ledger and how to see the window.
 */
import { spawn } from 'node:child_process'
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, dirname, join, relative, resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { findBrowser, hasDisplay, isLinuxRoot } from './browser.mjs'
import { dist, ensureBuilt, root } from './build.mjs'
import { electronOrWhyNot } from './electronShell.mjs'

const example = join(root, 'assets', 'tarnbeck', 'tarnbeck.bay.json')

const help = `npm start [BAY] [-- --browser | --serve]

Opens the window on a bay; without one, on the Tarnbeck example.

  --browser   an app window of an installed browser, even if the desktop shell is there
  --serve     no window: serve it on this machine and print its address
  --help      this text

GAPWRIGHT_BROWSER=PATH names the browser to use; ELECTRON_SKIP_BINARY_DOWNLOAD=1 keeps the desktop shell from being
fetched.
`

const say = (line) => process.stdout.write(`${line}\n`)

function readArguments() {
  const options = { browser: { type: 'boolean' }, serve: { type: 'boolean' }, help: { type: 'boolean', short: 'h' } }
  try {
    const { values, positionals } = parseArgs({ options, allowPositionals: true })
    if (positionals.length > 1) refuse(`one bay at a time, not ${positionals.length}`)
    return { ...values, bay: positionals[0] }
  } catch (error) {
    // The rest of it explains a way round that does not fit here.
    return refuse(error.message.split('. ')[0])
  }
}

function refuse(why) {
  process.stderr.write(`start: ${why}\nnpm start -- --help tells what there is.\n`)
  process.exit(2)
}

/** The bay's path; npm runs us in the project's folder and tells where the user stood. */
function bayPath(given) {
  const path = given === undefined ? example : resolve(process.env.INIT_CWD ?? process.cwd(), given)
  if (statSync(path, { throwIfNoEntry: false })?.isFile()) return path
  return refuse(
    given === undefined
      ? `the example, ${relative(root, path)}, is not in this copy`
      : `${given}: there is no such file`,
  )
}

/** Runs a program to its end; passes on being interrupted. Answers its status, and how long it ran. */
function run(program, args, options = {}) {
  const begin = Date.now()
  const child = spawn(program, args, { stdio: 'inherit', ...options })
  const stop = (signal) => child.kill(signal)
  process.on('SIGINT', stop).on('SIGTERM', stop)
  return new Promise((done) => {
    const end = (code, signal) => {
      process.off('SIGINT', stop).off('SIGTERM', stop)
      done({ code: code ?? (signal ? 130 : 1), milliseconds: Date.now() - begin })
    }
    child.on('exit', end).on('error', () => end(127))
  })
}

/** Tries the desktop shell; answers why not, or null when the window was shown and closed. */
async function openInShell(bay) {
  const found = await electronOrWhyNot(say)
  if ('why' in found) return found.why
  await ensureBuilt(['window', 'main', 'preload'])
  const rootArgs = rootSwitch('the desktop shell')
  const env = { ...process.env }
  delete env.ELECTRON_RUN_AS_NODE
  const { code, milliseconds } = await run(found.program, [...rootArgs, root, bay], { env })
  // A shell that cannot start (a library or its sandbox is missing) ends at once and says so itself.
  return code !== 0 && code !== 130 && milliseconds < 10_000 ? `the desktop shell did not start (status ${code})` : null
}

function rootSwitch(program) {
  if (!isLinuxRoot()) return []
  say(`Running as root: ${program} is started with --no-sandbox, since it refuses to start otherwise.`)
  return ['--no-sandbox']
}

function lastPort(file) {
  try {
    const port = Number(readFileSync(file, 'utf8'))
    return port >= 1024 && port < 65_536 ? port : undefined
  } catch {
    return undefined
  }
}

function rememberPort(file, port) {
  try {
    mkdirSync(dirname(file), { recursive: true, mode: 0o700 })
    writeFileSync(file, String(port), { mode: 0o600 })
  } catch {
    // A folder that cannot be written costs the browser's own list of recent files.
  }
}

async function startedServer(bay, onDeserted) {
  await ensureBuilt(['window', 'serve'])
  const { startServer, stateFolder } = await import('../dist/node/serve.mjs')
  const state = stateFolder()
  const portFile = join(state, 'port')
  // The same port as last time where it is free: what the browser keeps for a page, it keeps for its address.
  const port = lastPort(portFile)
  const server = await startServer({ windowFolder: join(dist, 'window'), bay, state, port, onDeserted })
  rememberPort(portFile, Number(new URL(server.address).port))
  return server
}

async function openInBrowser(browser, bay) {
  const profile = mkdtempSync(join(tmpdir(), 'gapwright-window-'))
  // Some browsers stay in the background after their last window; the server notices that first.
  let close = () => {}
  const server = await startedServer(bay, () => close())
  const args = [
    `--app=${server.invitation()}`,
    `--user-data-dir=${profile}`,
    '--no-first-run',
    '--no-default-browser-check',
    '--disable-background-networking',
    '--disable-sync',
    '--disable-extensions',
    '--disable-quic',
    // Without a graphics card the drawing is made in software; the name warns of strangers' pages, and this one is ours.
    '--enable-unsafe-swiftshader',
    '--window-size=1440,900',
    ...rootSwitch(basename(browser)),
  ]
  const child = spawn(browser, args, { stdio: 'ignore' })
  close = () => child.kill()
  process.on('SIGINT', close).on('SIGTERM', close)
  const code = await new Promise((done) => child.on('exit', done).on('error', () => done(127)))
  await server.close()
  rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 })
  return code
}

async function serveOnly(bay) {
  const server = await startedServer(bay)
  const { port } = new URL(server.address)
  say(`The window on ${basename(bay)} is served to this machine only. Open this address in a Chromium-family browser:`)
  say('')
  say(`  ${server.address}`)
  say('')
  say(`From another machine, first: ssh -L ${port}:127.0.0.1:${port} THIS-MACHINE`)
  say('The address holds the only key: whoever has it can read and save this bay. Ctrl+C ends.')
  await new Promise((done) => process.once('SIGINT', done).once('SIGTERM', done))
  await server.close()
}

/** What can be told without a window. */
async function printLedger(bay, why) {
  await ensureBuilt(['cli'])
  const { code } = await run(process.execPath, [join(dist, 'node', 'cli.mjs'), 'check', bay])
  say('')
  say(`No window: ${why}. Above is the gap ledger of ${relative(root, bay)}.`)
  say(
    'To see the window: `npm start` where there is a screen and a Chromium-family browser, or here `npm start -- --serve`,',
  )
  say('which prints an address to open, also from another machine.')
  // Gaps that are short are the bay's business; only a ledger that could not be made is ours.
  return code === 2 ? 2 : 0
}

async function main() {
  const { bay: given, browser: wantsBrowser, serve, help: wantsHelp } = readArguments()
  if (wantsHelp) {
    process.stdout.write(help)
    return 0
  }
  const bay = bayPath(given)
  if (serve) {
    await serveOnly(bay)
    return 0
  }
  if (!hasDisplay()) return printLedger(bay, 'this machine has no screen (neither DISPLAY nor WAYLAND_DISPLAY is set)')
  const why = wantsBrowser ? 'you asked for it' : await openInShell(bay)
  if (why === null) return 0
  const browser = findBrowser()
  if (browser === null) {
    const named = process.env.GAPWRIGHT_BROWSER
    const missing = named
      ? `${named}, which GAPWRIGHT_BROWSER names, is not there`
      : 'no Chromium-family browser is installed'
    return printLedger(bay, wantsBrowser ? missing : `${why}, and ${missing}`)
  }
  say(`Opening the window in ${basename(browser)}: ${why}.`)
  return openInBrowser(browser, bay)
}

try {
  process.exit(await main())
} catch (error) {
  process.stderr.write(`start: ${error instanceof Error ? error.message : error}\n`)
  process.exit(1)
}
