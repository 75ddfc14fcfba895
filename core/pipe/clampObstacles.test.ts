import { describe, expect, test } from 'vitest'
import { band, jointedBay, straightPipe } from '../../test/kit/jointedBay.ts'
import { keepOut } from '../../test/kit/tinyBay.ts'
import type { Bay, KeepOut, Pipe } from '../bay/schema.ts'
import { clampObstacles } from './clampObstacles.ts'

const clamped: Pipe = straightPipe({
  joints: { from: { kind: 'coupler', coupler: 'short', gap: 4, clamps: { pipe: { clamp: 'band' } } } },
})
const wall = keepOut('wall', { kind: 'box', at: [200, 0, 0], size: [10, 10, 10] }, { uncertainty: 2.5 })

function obstaclesOf(pipes: Pipe[], keepOuts: KeepOut[], tool = true, change: Partial<Bay> = {}) {
  const bay = { ...jointedBay(pipes, keepOuts), ...change }
  const clamps = [tool ? { ...band, tool: { diameter: 6, length: 50 } } : band]
  return clampObstacles({ ...bay, stock: { ...bay.stock, clamps } }, bay.candidates[0], new Map())
}

describe('what a tool may meet', () => {
  test('keep-outs with their uncertainty, parts with their tolerance', () => {
    const made = obstaclesOf([{ ...clamped, tolerance: 0.5 }], [wall, { ...wall, id: 'lid', fitting: 'comes-off' }])
    const told = made.ok ? made.value.obstacles.map(({ name, need, comesOff }) => [name, need, comesOff]) : made.faults
    expect(told).toEqual([
      ['wall', 2.5, false],
      ['lid', 2.5, true],
      ['core', 0, false],
      ['tank-right', 0, false],
      ['stub-right-p', 0, false],
      ['pipe-hot', 0.5, false],
      ['coupler-hot-from', 0, false],
      ['clamp-hot-from-pipe', 0, false],
    ])
  })

  test('the engine stands still: movement of a port asks for no room', () => {
    const ports = jointedBay([clamped]).ports?.map((port) => ({ ...port, movement: 7 }))
    const made = obstaclesOf([clamped], [], true, { ports })
    const pipe = made.ok ? made.value.obstacles.find(({ name }) => name === 'pipe-hot') : undefined
    expect(pipe?.need).toBe(0)
  })

  test('nothing, and no mesh asked for, where no clamp names a tool', () => {
    const skin = keepOut('skin', { kind: 'mesh', file: 'skin.stl', unit: 'mm' })
    expect(obstaclesOf([clamped], [skin], false)).toEqual({
      ok: true,
      value: { obstacles: [], without: [], leftOut: [] },
    })
    expect(obstaclesOf([{ ...clamped, joints: {} }], [skin])).toMatchObject({ ok: true })
    expect(obstaclesOf([clamped], [skin])).toMatchObject({ ok: false, faults: [{ code: 'mesh-missing' }] })
  })

  test('a pipe that cannot be rounded is left out by name, the others stay', () => {
    const tight: Pipe = {
      ...straightPipe({ id: 'cold' }),
      path: [
        [0, 390, 0],
        [10, 380, 0],
        [0, 370, 0],
      ],
    }
    const made = obstaclesOf([clamped, tight], [])
    expect(made.ok && made.value.without).toEqual(['cold'])
    const names = made.ok ? made.value.obstacles.map(({ name }) => name) : []
    expect(names).toContain('pipe-hot')
    expect(names).not.toContain('pipe-cold')
  })
})
