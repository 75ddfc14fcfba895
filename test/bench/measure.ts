import { createHash } from 'node:crypto'
import type { Scene, Way } from './scene.ts'

export interface Row {
  readonly scene: string
  readonly way: string
  readonly baseline: boolean
  /** The very first answer, before anything was compiled. */
  readonly firstMs: number
  readonly medianMs: number
  readonly leastMs: number
  readonly mostMs: number
  readonly runs: number
  /** Baseline's median over this way's median. */
  readonly ratio: number
  readonly hash: string
  /** Sum of the answers. */
  readonly sum: number
}

const median = (times: readonly number[]) => [...times].sort((a, b) => a - b)[times.length >> 1]
const inputsOf = (scene: Scene, way: Way) => (way.once ? 1 : Math.min(scene.count, way.most ?? scene.count))

/** Answers first, outside the timed loop: what is timed is known to be right, and the hash shows it did not change. */
async function answersOf(scene: Scene, way: Way): Promise<{ answers: number[]; firstMs: number }> {
  const start = performance.now()
  const answers = [await way.run(0)]
  const firstMs = performance.now() - start
  for (let i = 1; i < inputsOf(scene, way); i++) answers.push(await way.run(i))
  return { answers, firstMs }
}

function agree(scene: Scene, way: Way, answers: readonly number[], reference: readonly number[]): void {
  if (way.within === undefined) return
  answers.forEach((answer, i) => {
    if (i < reference.length && !(Math.abs(answer - reference[i]) <= (way.within ?? 0)))
      throw new Error(`${scene.name}: ${way.name} answers ${answer} for input ${i}, the first way ${reference[i]}`)
  })
}

/** Everyone is warmed up for as long: the engine compiles what runs often, ours and the libraries' alike. */
const warmUp = 200

/** Small jobs are repeated until a round takes 2 ms, so that the clock's grain does not count. */
async function timesOf(scene: Scene, way: Way): Promise<number[]> {
  const inputs = inputsOf(scene, way)
  const begin = performance.now()
  let runs = 0
  do await way.run(runs++ % inputs)
  while (performance.now() - begin < warmUp)
  const each = (performance.now() - begin) / runs
  const repeats = Math.max(1, Math.min(2000, Math.ceil(2 / each)))
  const rounds = way.most ? Math.ceil(way.most / inputs) : 3
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

/** Every way of a scene: answered, compared, timed. */
export async function measured(scene: Scene): Promise<Row[]> {
  const reference = await answersOf(scene, scene.ways[0])
  const found: { way: Way; hash: string; sum: number; firstMs: number; times: number[] }[] = []
  for (const way of scene.ways) {
    const { answers, firstMs } = way === scene.ways[0] ? reference : await answersOf(scene, way)
    agree(scene, way, answers, reference.answers)
    // A nanometre grain: the same engine on another machine gives the same hash.
    const hash = createHash('sha256')
      .update(answers.map((x) => x.toFixed(6)).join())
      .digest('hex')
      .slice(0, 8)
    const sum = answers.reduce((a, b) => a + b, 0)
    found.push({ way, hash, sum, firstMs, times: way.once ? [firstMs] : await timesOf(scene, way) })
  }
  const marked = found.filter(({ way }) => way.baseline).sort((a, b) => median(a.times) - median(b.times))
  const base = marked[0] ?? found[0]
  return found.map(
    (one): Row => ({
      scene: scene.name,
      way: one.way.name,
      baseline: one === base,
      firstMs: one.firstMs,
      medianMs: median(one.times),
      leastMs: Math.min(...one.times),
      mostMs: Math.max(...one.times),
      runs: one.times.length,
      ratio: median(base.times) / median(one.times),
      hash: one.hash,
      sum: one.sum,
    }),
  )
}

/** An aim in words, and whether it was reached. */
export interface Reached {
  readonly scene: string
  readonly aim: string
  readonly reached: boolean
}

export function reached({ name, aims = [] }: Scene, rows: readonly Row[]): Reached[] {
  const rowOf = (way: string) => {
    const row = rows.find((one) => one.way === way)
    if (!row) throw new Error(`${name}: no way "${way}" to reach an aim`)
    return row
  }
  return aims.map((aim) => {
    const { medianMs: ms, sum } = rowOf(aim.way)
    if ('like' in aim) {
      const above = sum / rowOf(aim.like).sum - 1
      const words = `${aim.way}: ${(100 * above).toFixed(3)} % above ${aim.like}, at most ${100 * aim.above} % asked`
      return { scene: name, aim: words, reached: above <= aim.above }
    }
    if ('ms' in aim)
      return { scene: name, aim: `${aim.way}: ${ms.toPrecision(3)} ms, at most ${aim.ms} asked`, reached: ms <= aim.ms }
    const others = rows.filter((row) => row.way.startsWith(aim.than))
    if (others.length === 0) throw new Error(`${name}: no way "${aim.than}" to compare with`)
    const times = Math.min(...others.map((row) => row.medianMs)) / ms
    const words = `${aim.way}: × ${times.toPrecision(3)} ${aim.than}, × ${aim.times} asked`
    return { scene: name, aim: words, reached: times >= aim.times }
  })
}
