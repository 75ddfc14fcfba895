import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { openBay } from '../app/files/bayFolder.ts'
import type { Meshes } from '../core/bay/part.ts'
import type { Bay, Pipe } from '../core/bay/schema.ts'
import { bends } from '../core/pipe/bends.ts'
import type { Route } from '../core/pipe/route/answer.ts'
import { route } from '../core/pipe/route/route.ts'
import { routeAll } from '../core/pipe/route/routeAll.ts'
import { withRoute } from '../core/pipe/route/withRoute.ts'
import { ledger } from '../core/verdict/ledger.ts'

/* The pipes of the example bays, found from nothing. */

async function opened(name: string): Promise<{ bay: Bay; meshes: Meshes; pipes: Pipe[]; candidate: string }> {
  const path = fileURLToPath(new URL(`../assets/${name}/${name}.bay.json`, import.meta.url))
  const found = await openBay(path)
  if (!found.ok) throw new Error(JSON.stringify(found.faults))
  const { bay, meshes } = found.value
  const [{ id, pipes = [] }] = bay.candidates
  return { bay, meshes, pipes, candidate: id }
}

/** Everyone's word on one pipe of the bay as it stands. */
function heldTo(bay: Bay, candidate: string, pipe: string, meshes: Meshes) {
  const checked = ledger(bay, candidate, meshes)
  const bent = bends(bay, candidate, meshes, { pipe })
  if (!checked.ok || !bent.ok) throw new Error('no ledger, or no bends')
  const rows = checked.value.pairs.filter(({ part, keepOut }) => [part, keepOut].includes(`pipe-${pipe}`))
  return { rows, bent: bent.value.pipes[0] }
}

describe.each(['tarnbeck', 'corvane'])('%s', (name) => {
  test('every pipe is found from an empty path, clears, can be made, and is no dearer than the one drawn', async () => {
    const { bay, meshes, pipes, candidate } = await opened(name)
    expect(pipes.length).toBe(2)
    for (const pipe of pipes) {
      const emptied = withRoute(bay, candidate, pipe.id, { path: [], bendRadius: pipe.bendRadius })
      const answer = route(emptied, candidate, pipe.id, meshes)
      if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
      const { routes, proved } = answer.value
      expect(answer.value).toMatchObject({ answer: 'found', stopped: 'done' })
      expect(routes.length).toBeGreaterThanOrEqual(3)
      for (const found of routes) {
        const { rows, bent } = heldTo(withRoute(bay, candidate, pipe.id, found), candidate, pipe.id, meshes)
        expect(rows.filter(({ verdict }) => verdict !== 'clears')).toEqual([])
        expect(found.least.margin).toBe(Math.min(...rows.map(({ margin }) => margin)))
        expect(bent.reasons).toEqual([])
        expect(bent.developed).toBeCloseTo(found.length, 6)
        expect(found.passes.length).toBeGreaterThan(0)
        expect(found.bends).toBeGreaterThanOrEqual(proved.fewestBends)
        expect(found.length).toBeGreaterThanOrEqual(proved.lengthAtLeast)
      }
      const drawn = heldTo(bay, candidate, pipe.id, meshes).bent
      expect(routes[0].cost).toBeLessThan(drawn.developed + 100 * drawn.arcs.length + 1e-6)
    }
  })

  test('both together, in both orders, clear each other; the same again is the same', async () => {
    const { bay, meshes, pipes, candidate } = await opened(name)
    const ids = pipes.map(({ id }) => id)
    const [answer, again] = [0, 1].map(() => routeAll(bay, candidate, ids, meshes, { routes: 2 }))
    if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
    expect(JSON.stringify(again)).toBe(JSON.stringify(answer))
    expect(answer.value.tried.map(({ order, found }) => ({ order, found }))).toEqual([
      { order: ids, found: 2 },
      { order: [...ids].reverse(), found: 2 },
    ])
    const best = answer.value.pipes.map(({ pipe, answer: { routes } }): [string, Route] => [pipe, routes[0]])
    const routed = best.reduce((all, [pipe, found]) => withRoute(all, candidate, pipe, found), bay)
    for (const id of ids)
      expect(heldTo(routed, candidate, id, meshes).rows.filter(({ verdict }) => verdict !== 'clears')).toEqual([])
  })
})
