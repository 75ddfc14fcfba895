import { describe, expect, test } from 'vitest'
import packageJson from '../../package.json' with { type: 'json' }
import { cli } from '../../test/kit/cli.ts'
import { needsAscii, takesColour, toAscii } from './io.ts'

describe('usage', () => {
  test.each([
    [['chek', 'a.bay.json'], /unknown command 'chek'\n\(Did you mean check\?\)/],
    [['check', 'a.bay.json', '--jsn'], /unknown option '--jsn'\n\(Did you mean --json\?\)/],
    [['check', 'a.bay.json', '--units', 'cm'], /Allowed choices are mm, inch/],
    [['mesh', 'a.stl', '--unit', 'mile'], /Allowed choices are mm, cm, m, inch, foot/],
    [['check'], /missing required argument 'bay'/],
    [['check', 'a', 'b'], /too many arguments/],
    [['check', 'a', '--candidate'], /argument missing/],
    [[], /Usage: gapwright/],
  ])('%j is refused with status 2, on stderr', async (argv, said) => {
    const { status, out, err } = await cli(argv)
    expect({ status, out }).toEqual({ status: 2, out: '' })
    expect(err).toMatch(said)
  })

  test.each([[], ['check'], ['largest'], ['place'], ['new'], ['mesh']].map((argv) => [[...argv, '--help']]))(
    '%j helps, on stdout',
    async (argv) => {
      const { status, out, err } = await cli(argv)
      expect({ status, err }).toEqual({ status: 0, err: '' })
      expect(out).toMatch(/^Usage: gapwright/)
      expect(Math.max(...out.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(115)
    },
  )

  test('--version', async () => {
    expect(await cli(['--version'])).toEqual({ status: 0, out: `${packageJson.version}\n`, err: '' })
  })
})

describe('the terminal', () => {
  test('colours only on a terminal, and not with NO_COLOR or a dumb one', () => {
    expect(takesColour({}, true)).toBe(true)
    expect(takesColour({}, false)).toBe(false)
    expect(takesColour({ NO_COLOR: '1' }, true)).toBe(false)
    expect(takesColour({ NO_COLOR: '' }, true)).toBe(true)
    expect(takesColour({ TERM: 'dumb' }, true)).toBe(false)
  })

  test('plain ASCII where the locale is not UTF-8', () => {
    expect(needsAscii({})).toBe(false)
    expect(needsAscii({ LANG: 'en_GB.UTF-8' })).toBe(false)
    expect(needsAscii({ LANG: 'C' })).toBe(true)
    expect(needsAscii({ LC_ALL: 'C', LANG: 'en_GB.UTF-8' })).toBe(true)
    expect(needsAscii({ TERM: 'linux' })).toBe(true)
  })

  test('every sign that the answers use has an ASCII form', async () => {
    const bay = 'assets/corvane/corvane.bay.json'
    const answers = await Promise.all(['check', 'largest', 'place'].map((command) => cli([command, bay])))
    const helps = await Promise.all(['check', 'largest', 'place', 'mesh'].map((command) => cli([command, '--help'])))
    const [out, help] = [answers, helps].map((all) => all.map((one) => one.out).join(''))
    // biome-ignore lint/suspicious/noControlCharactersInRegex: all of ASCII
    expect(toAscii(out + help).match(/[^\u0000-\u007f]/g)).toBeNull()
  })
})
