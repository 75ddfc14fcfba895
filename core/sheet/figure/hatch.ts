import type { Role } from '../../bay/schema.ts'
import type { Flat } from '../drawing/view.ts'
import { sinCos } from '../../shape/vec.ts'

/** Hatching of a role: ways of its lines in degrees, and how far they stand apart, mm of paper; told apart without colour. */
export interface Hatch {
  readonly ways: readonly number[]
  readonly apart: number
  /** Lines stand in twos, so far apart. */
  readonly paired?: number
}

export const hatches: Readonly<Record<Role, Hatch>> = {
  safety: { ways: [45], apart: 3.2, paired: 0.8 },
  lamp: { ways: [0, 90], apart: 2.6 },
  cooling: { ways: [0], apart: 1.8 },
  moving: { ways: [60, 120], apart: 3.4 },
  hot: { ways: [45, 135], apart: 2.6 },
  body: { ways: [135], apart: 2.4 },
  service: { ways: [90], apart: 2.4 },
}

/**
 * Hatching as lines that are cut off at the rim, so that every reader of files shows it alike.
 * @param loops a region, mm of paper; loops do not cross each other
 */
export function hatchLines(loops: readonly (readonly Flat[])[], { ways, apart, paired }: Hatch): [Flat, Flat][] {
  const offsets = paired === undefined ? [0] : [0, paired]
  return ways.flatMap((way) => offsets.flatMap((offset) => linesOneWay(loops, way, apart, offset)))
}

function linesOneWay(loops: readonly (readonly Flat[])[], way: number, apart: number, offset: number): [Flat, Flat][] {
  const [s, c] = sinCos(way)
  // In a frame whose x runs along the lines; the phase is that of the paper, so that regions side by side match.
  const turned = loops.map((loop) => loop.map(([x, y]): Flat => [x * c + y * s, y * c - x * s]))
  const crossings = new Map<number, number[]>()
  for (const loop of turned)
    for (let i = 0; i < loop.length; i++) noteCrossings(loop[i], loop[(i + 1) % loop.length], apart, offset, crossings)
  return [...crossings].flatMap(([n, xs]) => {
    const y = n * apart + offset
    const ordered = xs.sort((a, b) => a - b)
    const back = (x: number): Flat => [x * c - y * s, x * s + y * c]
    return Array.from({ length: Math.floor(ordered.length / 2) }, (_, k): [Flat, Flat] => [
      back(ordered[2 * k]),
      back(ordered[2 * k + 1]),
    ])
  })
}

function noteCrossings(a: Flat, b: Flat, apart: number, offset: number, crossings: Map<number, number[]>): void {
  const [low, high] = a[1] < b[1] ? [a, b] : [b, a]
  // Each edge counts its lower end and not its upper one, so that a corner is not counted twice.
  const first = Math.ceil((low[1] - offset) / apart)
  for (let n = first; n * apart + offset < high[1]; n++) {
    const share = (n * apart + offset - low[1]) / (high[1] - low[1])
    const x = low[0] + share * (high[0] - low[0])
    const list = crossings.get(n)
    if (list) list.push(x)
    else crossings.set(n, [x])
  }
}
