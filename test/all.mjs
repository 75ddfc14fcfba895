/**
 * `npm test`: types, lint, unit and property tests, whole programs, and the window in a real browser. The last line is
 * the sum: `N passed, N failed, N skipped`. Types and lint count as one test for each of their runs.
 *
 * On Debian, as root, what the tests want of the system is installed first: a browser if there is none, packages with
 * meshes that nobody here made, and an independent reader of DXF. GAPWRIGHT_NO_INSTALL=1 leaves the system as it is.
 */
import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join, relative } from 'node:path'
import { findBrowser } from '../bin/browser.mjs'
import { dist, root } from '../bin/build.mjs'

const sum = { passed: 0, failed: 0, skipped: 0 }
const failures = []
const skips = []
const secondTries = []

const say = (line) => process.stdout.write(`${line}\n`)

const bin = {
  tsc: 'node_modules/typescript/bin/tsc',
  lint: 'bin/lint.mjs',
  vitest: 'node_modules/vitest/vitest.mjs',
}

const node = (args) => spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit' }).status

function step(title, args) {
  say(`\n── ${title}`)
  const good = node(args) === 0
  sum[good ? 'passed' : 'failed']++
  if (!good) failures.push(title)
  else say('good')
}

/** Runs suites of vitest and adds up what its own report says, not what it prints. */
function suites(title, names, options = []) {
  say(`\n── ${title}`)
  const report = join(dist, `test-${names[0]}.json`)
  mkdirSync(dist, { recursive: true })
  rmSync(report, { force: true })
  const projects = names.map((name) => `--project=${name}`)
  const status = node([
    bin.vitest,
    'run',
    ...projects,
    ...options,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
  ])
  const failed = sum.failed
  if (existsSync(report)) count(JSON.parse(readFileSync(report, 'utf8')))
  // A file that cannot even be loaded, or a run that broke off, holds no failed test of its own.
  if (status !== 0 && sum.failed === failed) {
    sum.failed++
    failures.push(`${title} (did not run to its end)`)
  }
}

function count({ testResults }) {
  for (const { name, status, assertionResults } of testResults) {
    const file = relative(root, name)
    if (status === 'failed' && !assertionResults.some((test) => test.status === 'failed')) {
      sum.failed++
      failures.push(`${file} (could not be loaded, or its set-up failed)`)
    }
    for (const { status, fullName, failureMessages } of assertionResults) {
      if (status === 'passed') {
        sum.passed++
        if (failureMessages.length > 0) secondTries.push(`${file}: ${fullName}\n    ${failureMessages[0]}`)
      } else if (status === 'failed') {
        sum.failed++
        failures.push(`${file}: ${fullName}`)
      } else {
        sum.skipped++
        skips.push(`${file}: ${fullName}`)
      }
    }
  }
}

/** Packages with meshes, and a reader of DXF; where they cannot be had, their tests are counted as skipped. */
const testPackages = ['netgen-doc', 'occt-misc', 'gmsh-doc', 'assimp-testmodels', 'python3-ezdxf']

function installed(name) {
  // biome-ignore lint/suspicious/noTemplateCurlyInString: the placeholder is dpkg's own
  const asked = spawnSync('dpkg-query', ['-W', '-f=${Status}', name], { encoding: 'utf8' })
  return asked.status === 0 && asked.stdout.includes('install ok installed')
}

function prepareSystem() {
  const wanted = [...(findBrowser() ? [] : ['chromium']), ...testPackages.filter((name) => !installed(name))]
  if (wanted.length === 0) return
  const may = existsSync('/usr/bin/apt-get') && process.getuid?.() === 0 && !process.env.GAPWRIGHT_NO_INSTALL
  if (!may) {
    say(`Not here and not installed by this run (that takes apt-get, as root): ${wanted.join(', ')}`)
    return
  }
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
  const apt = (...args) =>
    spawnSync('apt-get', ['-q', ...args], { stdio: 'inherit', env, timeout: 10 * 60_000 }).status === 0
  say(`Installing for the tests: ${wanted.join(', ')}`)
  apt('update')
  // Small images leave documentation out, and two of the packages hold their meshes there.
  const withDocs = ['-o', 'Dpkg::Options::=--path-include=/usr/share/doc/*']
  // One by one: a package that cannot be had must not keep the others away.
  for (const name of wanted)
    if (!apt('install', '-y', '--no-install-recommends', ...withDocs, name)) say(`${name} could not be installed`)
}

prepareSystem()
step('types', [bin.tsc, '-p', 'tsconfig.json'])
step('types of core, which knows neither page nor Node', [bin.tsc, '-p', 'tsconfig.core.json'])
step('lint', [bin.lint])
suites('unit, property and whole programs', ['unit', 'whole'], ['--maxWorkers=100%'])
// By itself: a browser that draws in software takes every core.
suites('the window in a browser', ['e2e'])

if (skips.length > 0) say(`\nSkipped:\n  ${skips.join('\n  ')}`)
if (secondTries.length > 0) say(`\nPassed at the second try only; the first said:\n  ${secondTries.join('\n  ')}`)
if (failures.length > 0) say(`\nFailed:\n  ${failures.join('\n  ')}`)
say('')
say(`${sum.passed} passed, ${sum.failed} failed, ${sum.skipped} skipped`)
process.exitCode = sum.failed === 0 && sum.passed > 0 ? 0 : 1
