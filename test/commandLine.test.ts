import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { beforeAll, describe, expect, test } from 'vitest'

/* The command line as people start it: a process of its own, from the launcher on. */
const root = fileURLToPath(new URL('..', import.meta.url))
const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'
const started = (command: string, args: readonly string[]) =>
  spawnSync(command, args, { cwd: root, encoding: 'utf8', env: { ...process.env, LANG: 'en_GB.UTF-8', LC_ALL: '' } })
/** A source changed since the last start is built first, which is said on stderr and is no part of the answer. */
function gapwright(...args: string[]) {
  const { status, stdout, stderr } = started(process.execPath, ['bin/gapwright.mjs', ...args])
  return { status, stdout, stderr: stderr.replace(/^building .*\n/, '') }
}

// The first start may build.
beforeAll(() => {
  expect(gapwright('--version').status).toBe(0)
})

describe('gapwright', () => {
  test('check prints the ledger, and nothing on stderr once it is built', () => {
    const { status, stdout, stderr } = gapwright('check', tarnbeck)
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' })
    expect(stdout).toMatch(/^Tarnbeck 300, front bay · candidate wide/)
    expect(stdout).toMatch(/✓ clears\. \d+ pairs/)
  })

  test('check --json prints one object and nothing else, the same bytes each time', () => {
    const first = gapwright('check', tarnbeck, '--json')
    expect(Object.keys(JSON.parse(first.stdout))).toEqual([
      'command',
      'bay',
      'candidate',
      'verdict',
      'pairs',
      'leftOut',
      'unrouted',
      'exempt',
    ])
    expect(gapwright('check', tarnbeck, '--json').stdout).toBe(first.stdout)
  })

  test('bad input ends with 2 and a sentence', () => {
    expect(gapwright('check', 'none.bay.json')).toEqual({
      status: 2,
      stdout: '',
      stderr: 'none.bay.json: there is no such file.\n',
    })
  })

  test('someone who reads only the beginning gets it without a complaint', () => {
    const { status, stdout, stderr } = started('sh', [
      '-c',
      `node bin/gapwright.mjs check ${tarnbeck} --json | head -n 1`,
    ])
    expect({ status, stdout, stderr }).toEqual({ status: 0, stdout: '{\n', stderr: '' })
  })

  test.runIf(existsSync('/dev/full'))('a full disk is said in a sentence, and is never a good end', () => {
    const toFull = (words: string) => started('sh', ['-c', `node bin/gapwright.mjs ${words}`])
    for (const words of [`check ${tarnbeck} > /dev/full`, `check ${tarnbeck} --json > /dev/full`]) {
      const { status, stderr } = toFull(words)
      expect({ status, stderr }).toEqual({ status: 2, stderr: 'The answer could not be written: a full disk.\n' })
    }
    expect(toFull('check none.bay.json 2> /dev/full').status).toBe(2)
  })

  test('npx gapwright works inside the project', () => {
    const { status, stdout } = started('npx', [
      '--no-install',
      'gapwright',
      'mesh',
      'assets/tarnbeck/bumper.ply.gz',
      '--json',
    ])
    expect(status).toBe(0)
    expect(JSON.parse(stdout)).toMatchObject({ format: 'PLY', closed: false, components: 1 })
  })
})
