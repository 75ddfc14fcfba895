import type { Pipe } from '../../../core/bay/schema.ts'
import type { Route, RouteAllAnswer } from '../../../core/pipe/route/answer.ts'
import { withRoute } from '../../../core/pipe/route/withRoute.ts'
import { doEdit, type WindowStore } from '../state/windowState.ts'
import { words } from '../words.ts'

const { routes: text } = words.pipes

/** A route becomes the pipe's own way; one step back undoes it. */
export function adoptRoute(store: WindowStore, pipe: Pipe, route: Route, number: number): void {
  const { candidate } = store.getState()
  if (candidate === null) return
  doEdit(store, {
    name: 'adopt-route',
    label: text.adopted(words.part.pipeTitle(pipe.name), number),
    undo: 'step',
    apply: (bay) => withRoute(bay, candidate, pipe.id, route),
  })
}

/** The best route of each pipe at once, as one step. */
export function adoptBest(store: WindowStore, { pipes }: RouteAllAnswer): void {
  const { candidate } = store.getState()
  if (candidate === null) return
  doEdit(store, {
    name: 'adopt-routes',
    label: text.adoptedBest,
    undo: 'step',
    apply: (bay) =>
      pipes.reduce((edited, { pipe, answer }) => {
        const [best] = answer.routes
        return best ? withRoute(edited, candidate, pipe, best) : edited
      }, bay),
  })
}

/** Whether the pipe goes this very way. */
export const isTaken = ({ path, bendRadius, elbows }: Pipe, route: Pick<Route, 'path' | 'bendRadius'>): boolean =>
  elbows === undefined &&
  bendRadius === route.bendRadius &&
  path.length === route.path.length &&
  path.every((corner, i) => corner.every((x, k) => x === route.path[i][k]))
