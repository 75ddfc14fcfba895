import { describe, expect, test } from 'vitest'
import { bareCandidate, keepOut, tinyBay } from '../../../test/kit/tinyBay.ts'
import type { Move, SeatPath } from '../../seat/answer.ts'
import { startOf } from '../../seat/move.ts'
import { identity } from '../../shape/vec.ts'
import { drawnThings } from '../drawing/drawing.ts'
import { areaOf } from '../drawing/region.ts'
import type { FigureArea, FigureLine, Paper } from './figure.ts'
import { moveFigures } from './moveFigures.ts'

const seat = { turn: identity, at: [0, 0, 0] as const }
const move = (change: Partial<Move>): Move => ({
  shift: [0, 0, 0],
  pivot: [0, 0, 0],
  axis: [0, 0, 1],
  angle: 0,
  ...change,
})
const pathOf = (...moves: Move[]): SeatPath => ({ start: startOf(seat, moves), moves })

const bay = tinyBay([
  keepOut('wall', { kind: 'box', at: [-80, 0, 0], size: [20, 100, 60] }),
  keepOut('aside', { kind: 'box', at: [-80, 400, 0], size: [20, 100, 60] }),
  keepOut('cover', { kind: 'box', at: [0, 0, -90], size: [80, 80, 20] }, { fitting: 'comes-off' }),
])
const things = drawnThings(bay, bay.candidates[0], new Map())
if (!things.ok) throw new Error(JSON.stringify(things.faults))
const scene = (path: SeatPath, change: object = {}) => ({
  candidate: bareCandidate(),
  path,
  least: null,
  things: things.value,
  withPart: ['core'],
  off: ['cover'],
  width: 90,
  height: 60,
  ...change,
})
const areas = (items: readonly { kind: string }[], fill: string) =>
  items.filter((item): item is FigureArea => item.kind === 'area' && (item as FigureArea).fill === fill)
const lines = (items: readonly { kind: string }[], stroke: string) =>
  items.filter((item): item is FigureLine => item.kind === 'line' && (item as FigureLine).stroke === stroke)

describe('pictures of the moves', () => {
  const up = move({ shift: [0, 0, 150] })
  const [picture] = moveFigures(scene(pathOf(up)))
  const { items, width, height } = picture.figure

  test('one a move, all of it on its paper, and not to scale', () => {
    const both = moveFigures(scene(pathOf(up, move({ shift: [20, 0, 0] }))))
    expect(both.map(({ figure }) => figure.id)).toEqual(['move-1', 'move-2'])
    expect(picture.figure.scale).toBeNull()
    const points = items.flatMap((item): readonly Paper[] =>
      item.kind === 'area' ? item.loops.flat() : item.kind === 'line' ? item.points : [],
    )
    expect(points.length).toBeGreaterThan(20)
    for (const [x, y] of points) {
      expect(x >= -0.01 && x <= width + 0.01 && y >= -0.01 && y <= height + 0.01).toBe(true)
    }
  })

  test('the part where it begins and where it ends, the same size, as far apart as it moves', () => {
    const [before] = lines(items, 'neighbour')
    const [after] = lines(items, 'outline')
    const middle = ({ points }: FigureLine) => points.reduce((sum, [, y]) => sum + y, 0) / points.length
    const sizeOf = ({ points }: FigureLine) => Math.max(...points.map(([x]) => x)) - Math.min(...points.map(([x]) => x))
    // From the left the core is 100 long: that gives the scale.
    const scale = sizeOf(after) / 100
    expect(picture.view).toBe('side')
    expect(sizeOf(before)).toBeCloseTo(sizeOf(after), 6)
    expect(middle(before) - middle(after)).toBeCloseTo(150 * scale, 6)
    const [part] = areas(items, 'part')
    expect(Math.abs(areaOf(part.loops))).toBeCloseTo(100 * 80 * scale * scale, 4)
  })

  test('what stays level with the part is there; what comes off, and what stands beside it, is not', () => {
    expect(areas(items, 'body')).toHaveLength(1)
    expect(moveFigures(scene(pathOf(up), { off: [] }))[0].figure.items.length).toBeGreaterThan(items.length)
  })

  test('an arrow shows the way: up', () => {
    const [[tip, ...wings]] = areas(items, 'ink').map(({ loops }) => loops[0])
    for (const wing of wings) expect(wing[1]).toBeGreaterThan(tip[1])
  })

  test('a turn is seen along its axis, about a cross', () => {
    const views = (
      [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ] as const
    ).map((axis) => {
      const [turn] = moveFigures(scene(pathOf(move({ axis, angle: 20, pivot: [50, 100, 40] }))))
      expect(lines(turn.figure.items, 'thin').length).toBeGreaterThanOrEqual(3)
      expect(areas(turn.figure.items, 'ink')).toHaveLength(1)
      return turn.view
    })
    expect(views).toEqual(['front', 'side', 'plan'])
  })

  test('the tightest place is ringed in its move and in no other', () => {
    const least = {
      ...{ atLeast: 1, atMost: 1.001, move: 1, share: 0.5, part: 'core', keepOut: 'wall' },
      ...{ onPart: [-50, 0, 0], onKeepOut: [-70, 0, 0] },
    }
    const both = moveFigures(scene(pathOf(up, move({ shift: [20, 0, 0] })), { least }))
    expect(both.map(({ tightest }) => tightest)).toEqual([false, true])
  })
})
