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
  /** All times, the shortest first. */
  readonly times: readonly number[]
  /** Successes, where the way says what they are, and of how many inputs. */
  readonly found: { readonly count: number; readonly of: number } | null
  readonly runs: number
  /** Baseline's median over this way's median. */
  readonly ratio: number
  readonly hash: string
  /** Sum of the answers. */
  readonly sum: number
}

const median = (times: readonly number[]) => [...times].sort((a, b) => a - b)[times.length >> 1]
const inputsOf = (scene: Scene, way: Way) => Math.min(scene.count, way.most ?? (way.once ? 1 : scene.count))

/** Answers first, outside the timed loop: what is timed is known to be right, and the hash shows it did not change. */
async function answersOf(scene: Scene, way: Way): Promise<{ answers: number[]; times: number[] }> {
  const answers: number[] = []
  const times: number[] = []
  for (let i = 0; i < inputsOf(scene, way); i++) {
    const start = performance.now()
    answers.push(await way.run(i))
    times.push(performance.now() - start)
  }
  return { answers, times }
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
  const found: { way: Way; hash: string; answers: number[]; firstMs: number; times: number[] }[] = []
  for (const way of scene.ways) {
    const { answers, times } = way === scene.ways[0] ? reference : await answersOf(scene, way)
    agree(scene, way, answers, reference.answers)
    // A nanometre grain: the same engine on another machine gives the same hash.
    const hash = createHash('sha256')
      .update(answers.map((x) => x.toFixed(6)).join())
      .digest('hex')
      .slice(0, 8)
    found.push({
      way,
      hash,
      answers,
      firstMs: way.taken?.[0] ?? times[0],
      times: (way.taken && [...way.taken]) ?? (way.once ? times : await timesOf(scene, way)),
    })
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
      times: [...one.times].sort((a, b) => a - b),
      found: one.way.found ? { count: one.answers.filter(one.way.found).length, of: one.answers.length } : null,
      runs: one.times.length,
      ratio: median(base.times) / median(one.times),
      hash: one.hash,
      sum: one.answers.reduce((a, b) => a + b, 0),
    }),
  )
}

/** The time that so large a share of the runs did not exceed. */
export const atShare = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)]

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
    const { medianMs: ms, sum, times: all, found } = rowOf(aim.way)
    if ('found' in aim) {
      if (!found) throw new Error(`${name}: ${aim.way} does not say what a success is`)
      const words = `${aim.way}: ${found.count} of ${found.of} found, ${100 * aim.found} % asked`
      return { scene: name, aim: words, reached: found.count >= aim.found * found.of }
    }
    if ('like' in aim) {
      const above = sum / rowOf(aim.like).sum - 1
      const words = `${aim.way}: ${(100 * above).toFixed(3)} % above ${aim.like}, at most ${100 * aim.above} % asked`
      return { scene: name, aim: words, reached: above <= aim.above }
    }
    if ('ms' in aim) {
      const taken = aim.share === undefined ? ms : atShare(all, aim.share)
      const of = aim.share === undefined ? '' : ` in ${100 * aim.share} % of its runs`
      const words = `${aim.way}: ${taken.toPrecision(3)} ms${of}, at most ${aim.ms} asked`
      return { scene: name, aim: words, reached: taken <= aim.ms }
    }
    const others = rows.filter((row) => row.way.startsWith(aim.than))
    if (others.length === 0) throw new Error(`${name}: no way "${aim.than}" to compare with`)
    const times = Math.min(...others.map((row) => row.medianMs)) / ms
    const words = `${aim.way}: × ${times.toPrecision(3)} ${aim.than}, × ${aim.times} asked`
    return { scene: name, aim: words, reached: times >= aim.times }
  })
}
