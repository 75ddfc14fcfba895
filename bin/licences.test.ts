import { describe, expect, it } from 'vitest'
import { isPermissive, licences, projectLicences } from './licences.mjs'

describe('licences', () => {
  it.each([
    ['MIT', true],
    ['zlib', true],
    ['(MIT OR CC0-1.0)', true],
    ['GPL-3.0-only OR MIT', true],
    ['MIT OR GPL-3.0-only', true],
    ['MIT AND Apache-2.0', true],
    ['(MIT OR GPL-2.0-only) AND ISC', true],
    ['MIT AND GPL-3.0-only', false],
    ['(MIT AND GPL-2.0-only) OR LGPL-3.0-or-later', false],
    ['GPL-3.0-or-later', false],
    ['LGPL-2.1', false],
    ['SEE LICENSE IN LICENSE', false],
    ['UNLICENSED', false],
    ['none stated', false],
    ['(MIT', false],
    ['', false],
  ])('%s leaves a permissive choice: %s', (expression, good) => {
    expect(isPermissive(expression)).toBe(good)
  })

  it('finds what is planted, also below another package and where the lock file says otherwise', () => {
    const packages = {
      '': { license: 'UNLICENSED' },
      'node_modules/good': { license: 'MIT' },
      'node_modules/good/node_modules/@deep/viral': { license: 'AGPL-3.0-only' },
      'node_modules/silent': {},
      'node_modules/png-js': { version: '1.1.0' },
      'node_modules/later/node_modules/png-js': { version: '2.0.0' },
      'node_modules/liar': { license: 'MIT' },
      'node_modules/test-only': { license: 'GPL-2.0-only', dev: true },
      'node_modules/lightningcss': { license: 'MPL-2.0' },
      'node_modules/other-mpl': { license: 'MPL-2.0' },
    }
    const found = licences({ packages }, (path) => (path.endsWith('liar') ? 'SSPL-1.0' : undefined))
    expect(found.filter(({ fault }) => fault).map(({ name }) => name)).toEqual([
      '@deep/viral',
      'silent',
      'png-js',
      'liar',
      'other-mpl',
    ])
    // What was read at one version is not known of another.
    expect(found.filter(({ name }) => name === 'png-js').map(({ licence }) => licence)).toEqual(['MIT', 'none stated'])
    expect(found.find(({ name }) => name === 'test-only')).toMatchObject({ shipped: false, licence: 'GPL-2.0-only' })
  })

  it('the program is made of permissive packages, and the few that stand apart are named', () => {
    const all = projectLicences()
    expect(all.length).toBeGreaterThan(100)
    expect(all.filter(({ fault }) => fault)).toEqual([])
    const apart = new Set(all.filter(({ shipped, why }) => shipped && why).map(({ name }) => name.replace(/-.*/, '')))
    expect([...apart]).toEqual(['lightningcss'])
  })
})
