/**
 * Licences of everything that is installed. What the program is made of must be permissive; what only stands beside it
 * as a separate, unmodified package may be copyleft for its own files, and is named here with the reason.
 * `node bin/licences.mjs` prints the list.
 */
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { root } from './build.mjs'

/** SPDX names, lower case, that ask for no more than their notice. */
const permissive = new Set(
  `0bsd apache-2.0 bitstream-vera blueoak-1.0.0 bsd-2-clause bsd-3-clause bsl-1.0 cc0-1.0 isc mit mit-0 python-2.0 unlicense
   zlib`.split(/\s+/),
)

/** Packages that are used as they come and never become part of what is built. */
export const besides = [
  {
    name: /^lightningcss(-|$)/,
    licence: 'MPL-2.0',
    why: 'style compiler inside the build tool; runs, is not built in',
  },
]

/** Packages that name no SPDX licence; what their own LICENSE file says, read at that version. */
const readInFile = [
  {
    name: 'dejavu-fonts-ttf',
    version: '2.37.3',
    stated: 'SEE LICENSE IN README.md AND LICENSE',
    licence: 'Bitstream-Vera',
  },
  { name: 'png-js', version: '1.1.0', stated: 'none stated', licence: 'MIT' },
]

/**
 * @param {string} expression SPDX, with OR, AND and brackets
 * @returns {boolean} whether it leaves us a permissive choice
 */
export function isPermissive(expression) {
  const words = expression.toLowerCase().match(/[()]|[^\s()]+/g) ?? []
  let at = 0
  const either = () => {
    let good = both()
    while (words[at] === 'or') {
      at++
      // Both sides are always read, whichever decides.
      good = both() || good
    }
    return good
  }
  const both = () => {
    let good = one()
    while (words[at] === 'and') {
      at++
      good = one() && good
    }
    return good
  }
  const one = () => {
    if (words[at] !== '(') return permissive.has(words[at++] ?? '')
    at++
    const good = either()
    return words[at++] === ')' && good
  }
  const good = either()
  return good && at === words.length
}

/**
 * Every package of the lock file.
 * @param {{ packages: Record<string, { dev?: boolean, license?: string, version?: string }> }} lock
 * @param {(path: string) => string | undefined} installedLicence of a package in its folder, where it is installed
 * @returns {{ name: string, version: string, licence: string, shipped: boolean, why?: string, fault?: string }[]}
 */
export function licences(lock, installedLicence) {
  return Object.entries(lock.packages)
    .filter(([path]) => path !== '')
    .map(([path, { dev, license, version = '' }]) => {
      const name = path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length)
      const stated = installedLicence(path) ?? license ?? 'none stated'
      const read = readInFile.find((one) => one.name === name && one.version === version && one.stated === stated)
      const licence = read?.licence ?? stated
      const beside = besides.find((known) => known.name.test(name) && known.licence === licence)
      const entry = { name, version, licence, shipped: dev !== true }
      if (beside) return { ...entry, why: beside.why }
      return entry.shipped && !isPermissive(licence)
        ? { ...entry, fault: 'neither permissive nor known to stand apart' }
        : entry
    })
}

export function projectLicences() {
  const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'))
  return licences(lock, (path) => {
    const file = join(root, path, 'package.json')
    if (!existsSync(file)) return undefined
    const { license } = JSON.parse(readFileSync(file, 'utf8'))
    return typeof license === 'string' ? license : license?.type
  })
}

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  const all = projectLicences()
  for (const shipped of [true, false]) {
    process.stdout.write(shipped ? 'Used by the program\n' : '\nUsed by its tests and checks only\n')
    for (const { name, version, licence, why, fault } of all.filter((entry) => entry.shipped === shipped))
      process.stdout.write(
        `  ${`${name} ${version}`.padEnd(44)} ${licence}${why ? `: ${why}` : ''}${fault ? `: ${fault}` : ''}\n`,
      )
  }
  process.exit(all.some(({ fault }) => fault) ? 1 : 0)
}
