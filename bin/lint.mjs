/** Lint: form and habits (biome), the import rule, length of files, dead code (knip). Exit status 1 on any fault. */
import { spawnSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { join, relative, sep } from 'node:path'
import { fileURLToPath } from 'node:url'
import { root } from './build.mjs'
import { importFaults } from './importRule.mjs'

const longest = 300

/** All TypeScript of core, app and test by path from the project's folder. */
export function sourceTexts() {
  const texts = new Map()
  for (const area of ['core', 'app', 'test'])
    for (const entry of readdirSync(join(root, area), { recursive: true, withFileTypes: true })) {
      if (!entry.isFile() || !/\.tsx?$/.test(entry.name)) continue
      const path = join(entry.parentPath, entry.name)
      texts.set(relative(root, path).split(sep).join('/'), readFileSync(path, 'utf8'))
    }
  return texts
}

const run = (packageName, bin, args) =>
  spawnSync(process.execPath, [join(root, 'node_modules', packageName, bin), ...args], { cwd: root, stdio: 'inherit' })
    .status === 0

function importRuleHolds() {
  const texts = sourceTexts()
  const { dependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))
  const faults = importFaults(texts, Object.keys(dependencies))
  for (const [file, text] of texts) {
    const lines = text.split('\n').length - 1
    if (lines > longest && !file.includes('.test.'))
      faults.push({ file, line: lines, what: `${lines} lines; a file has ${longest} at most` })
  }
  for (const { file, line, what } of faults) process.stderr.write(`${file}:${line} ${what}\n`)
  process.stdout.write(`import rule: ${texts.size} files, ${faults.length} faults\n`)
  return faults.length === 0
}

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  const results = [
    run('@biomejs/biome', 'bin/biome', ['check', '--error-on-warnings', '.']),
    importRuleHolds(),
    run('knip', 'bin/knip.js', ['--no-progress', '--treat-config-hints-as-errors']),
  ]
  process.exit(results.every(Boolean) ? 0 : 1)
}
