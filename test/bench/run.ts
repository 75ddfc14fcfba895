import { createHash } from 'node:crypto'
import { mkdirSync, writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { ledgerScene } from './ledgerScenes.ts'
import { manifoldLibrary } from './libraries.ts'
import { meshScene } from './meshScenes.ts'
import { pipeScenes } from './pipeScenes.ts'
import { readScene } from './readScenes.ts'
import type { Scene, Way } from './scene.ts'
import { smallScene } from './smallScenes.ts'

interface Row {
  readonly scene: string
  readonly way: string
  readonly baseline: boolean
  readonly medianMs: number
  readonly leastMs: number
  readonly mostMs: number
  readonly runs: number
  /** Baseline's median over this way's median. */
  readonly ratio: number
  readonly hash: string
}

const median = (times: readonly number[]) => [...times].sort((a, b) => a - b)[times.length >> 1]

/** Answers first, outside the timed loop: what is timed is known to be right, and the hash shows it did not change. */
async function answersOf(scene: Scene, way: Way): Promise<number[]> {
  const answers: number[] = []
  for (let i = 0; i < Math.min(scene.count, way.most ?? scene.count); i++) answers.push(await way.run(i))
  return answers
}

function agree(scene: Scene, way: Way, answers: readonly number[], reference: readonly number[]): void {
  if (way.within === undefined) return
  answers.forEach((answer, i) => {
    if (i < reference.length && !(Math.abs(answer - reference[i]) <= (way.within ?? 0)))
      throw new Error(`${scene.name}: ${way.name} answers ${answer} for input ${i}, the first way ${reference[i]}`)
  })
}

/** Small jobs are repeated until a round takes 2 ms, so that the clock's grain does not count. */
async function timesOf(scene: Scene, way: Way): Promise<number[]> {
  const inputs = Math.min(scene.count, way.most ?? scene.count)
  const probe = performance.now()
  await way.run(0)
  const repeats = way.most ? 1 : Math.max(1, Math.min(2000, Math.ceil(2 / Math.max(1e-4, performance.now() - probe))))
  const rounds = way.most ? 1 : 3
  const times: number[] = []
  for (let round = 0; round < rounds; round++)
    for (let i = 0; i < inputs; i++) {
      const start = performance.now()
      for (let k = 0; k < repeats; k++) {
        const answer = way.run(i)
        if (answer instanceof Promise) await answer
      }
      times.push((performance.now() - start) / repeats)
    }
  return times
}

async function rowsOf(scene: Scene): Promise<Row[]> {
  console.log(`\n${scene.name}\n  inputs: ${scene.inputs}${scene.aim ? `\n  aim: ${scene.aim}` : ''}`)
  const reference = await answersOf(scene, scene.ways[0])
  const measured: { way: Way; hash: string; times: number[] }[] = []
  for (const way of scene.ways) {
    const answers = way === scene.ways[0] ? reference : await answersOf(scene, way)
    agree(scene, way, answers, reference)
    // A nanometre grain: the same engine on another machine gives the same hash.
    const hash = createHash('sha256')
      .update(answers.map((x) => x.toFixed(6)).join())
      .digest('hex')
      .slice(0, 8)
    measured.push({ way, hash, times: await timesOf(scene, way) })
  }
  const base = measured.find(({ way }) => way.baseline) ?? measured[0]
  const rows = measured.map(
    ({ way, hash, times }): Row => ({
      scene: scene.name,
      way: way.name,
      baseline: way.baseline === true,
      medianMs: median(times),
      leastMs: Math.min(...times),
      mostMs: Math.max(...times),
      runs: times.length,
      ratio: median(base.times) / median(times),
      hash,
    }),
  )
  for (const row of rows)
    console.log(
      `  ${row.hash}  ${row.way.padEnd(62)} ${row.medianMs.toPrecision(3).padStart(9)} ms  (${row.leastMs.toPrecision(2)} … ${row.mostMs.toPrecision(2)})  ${row.baseline ? 'baseline' : `× ${row.ratio.toPrecision(3)}`}`,
    )
  return rows
}

const wanted = process.argv.slice(2)
const root = new URL('../../', import.meta.url)
const kernel = await manifoldLibrary()
const scenes: Record<string, () => Promise<Scene[]> | Scene[]> = {
  small: () => [smallScene()],
  mesh: () => [meshScene(226, kernel), meshScene(388, kernel)],
  pipe: pipeScenes,
  ledger: async () => [await ledgerScene(root)],
  read: () => [readScene()],
}
for (const name of wanted)
  if (!(name in scenes)) throw new Error(`no scenes "${name}"; there are ${Object.keys(scenes).join(', ')}`)
console.log(
  `${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}; ratios count, milliseconds depend on the machine`,
)
const rows: Row[] = []
for (const [name, make] of Object.entries(scenes)) {
  if (wanted.length > 0 && !wanted.includes(name)) continue
  for (const scene of await make()) rows.push(...(await rowsOf(scene)))
}
mkdirSync(new URL('dist/', root), { recursive: true })
writeFileSync(new URL('dist/bench.json', root), `${JSON.stringify(rows, null, 2)}\n`)
console.log('\nwritten to dist/bench.json')
