import { afterEach, describe, expect, test, vi } from 'vitest'
import type { Bay } from '../../../core/bay/schema.ts'
import { pipedBay } from '../../../test/kit/pipedBay.ts'
import { bayOf, bayOpened, createWindowStore, undo } from '../state/windowState.ts'
import { startRig } from '../viewport/camera.ts'
import { CornerDrag } from '../viewport/cornerDrag.ts'
import { adoptRoute } from './adoptRoute.ts'
import { addCorner, moveCorner, newVisit, removeCorner } from './cornerEdits.ts'

function storeWith(bay: Bay) {
  const store = createWindowStore()
  store.setState((state) => bayOpened(state, { token: 't', name: 'my', writable: true }, { bay, meshes: [] }))
  const pipe = () => bayOf(store.getState())!.candidates[0].pipes![0]
  const steps = () => store.getState().history!.past.length
  return { store, pipe, steps }
}

describe('corners', () => {
  test('one that comes or goes takes the numbers of welded elbows along', () => {
    const { store, pipe } = storeWith(pipedBay({ elbows: [{ corner: 1, elbow: 'cast' }] }))
    expect(addCorner(store, 0)).toBe(true)
    expect(pipe().elbows).toEqual([{ corner: 2, elbow: 'cast' }])
    expect(addCorner(store, 3)).toBe(true)
    expect(pipe().elbows).toEqual([{ corner: 2, elbow: 'cast' }])
    expect(removeCorner(store, 0)).toBe(true)
    expect(pipe().elbows).toEqual([{ corner: 1, elbow: 'cast' }])
    expect(removeCorner(store, 1)).toBe(true)
    expect(pipe()).not.toHaveProperty('elbows')
  })

  test('moved often in one visit they are one step, in two visits two', () => {
    const { store, pipe, steps } = storeWith(pipedBay())
    const before = pipe().path
    const visit = newVisit()
    for (let x = 1; x < 4; x++) moveCorner(store, 1, [-20 - x, -900, 190], visit)
    expect(steps()).toBe(1)
    moveCorner(store, 1, [-30, -900, 190], newVisit())
    expect(steps()).toBe(2)
    undo(store)
    undo(store)
    expect(pipe().path).toBe(before)
  })

  test('a place that the bay refuses is not taken', () => {
    const { store, pipe, steps } = storeWith(pipedBay())
    expect(moveCorner(store, 1, [Number.NaN, 0, 0], newVisit())).toBe(false)
    expect(steps()).toBe(0)
    expect(pipe().path[1]).toEqual([-20, -900, 190])
  })

  test('an adopted route takes the place of path and elbows, in one step', () => {
    const { store, pipe, steps } = storeWith(pipedBay({ elbows: [{ corner: 1, elbow: 'cast' }] }))
    const route = { path: [[1, 2, 3] as const], bendRadius: 85, length: 1, bends: 1, cost: 1, passes: [] }
    adoptRoute(store, pipe(), { ...route, least: { margin: 1, keepOut: 'beam' } }, 1)
    expect(pipe().path).toEqual([[1, 2, 3]])
    expect(pipe()).not.toHaveProperty('elbows')
    expect(steps()).toBe(1)
  })
})

describe('a drag', () => {
  afterEach(() => {
    vi.unstubAllGlobals()
  })
  const held = { oneAxis: false, step: 1 }
  function dragging() {
    vi.stubGlobal('requestAnimationFrame', (work: () => void) => setTimeout(work, 0))
    vi.stubGlobal('cancelAnimationFrame', (frame: number) => clearTimeout(frame))
    const opened = storeWith(pipedBay())
    const { store, pipe } = opened
    const seen: unknown[] = []
    const drag = new CornerDrag(
      { store, corner: 1, from: pipe().path[1], rig: { ...startRig('side'), scale: 1 } },
      [0, 0],
      store.getState().history,
      (at) => seen.push(at),
    )
    return { ...opened, drag, seen }
  }

  test('is followed with the next frame, given to the bay as it computes, and is one step', async () => {
    const { store, drag, seen, pipe, steps } = dragging()
    store.setState({ computing: { progress: null } })
    drag.move(5, 0, held)
    expect(steps()).toBe(0)
    await vi.waitFor(() => expect(seen[0]).toEqual([-15, -900, 190]))
    store.setState({ computing: null })
    await vi.waitFor(() => expect(pipe().path[1]).toEqual([-15, -900, 190]))
    drag.move(9, -4, held)
    drag.end()
    expect(pipe().path[1]).toEqual([-11, -900, 194])
    expect(steps()).toBe(1)
    expect(seen.at(-1)).toBeNull()
  })

  test('given up, or back where it was, it leaves no trace, in redo neither', async () => {
    for (const how of ['cancel', 'end'] as const) {
      const { store, drag, pipe, steps } = dragging()
      const before = pipe().path
      drag.move(5, 0, held)
      await vi.waitFor(() => expect(steps()).toBe(1))
      if (how === 'end') drag.move(0, 0, held)
      drag[how]()
      expect(pipe().path).toBe(before)
      expect(steps()).toBe(0)
      expect(store.getState().history!.future).toEqual([])
    }
  })
})
