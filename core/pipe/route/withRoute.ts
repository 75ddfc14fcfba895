import type { Bay, Candidate, Pipe } from '../../bay/schema.ts'
import type { Route } from './answer.ts'

/**
 * The bay with a route in a pipe's path. Elbows of the former path go: they name its corners, and a route is bent throughout.
 * @param candidateId, pipeId  of the bay; others give the bay as it was
 */
export function withRoute(
  bay: Bay,
  candidateId: string,
  pipeId: string,
  route: Pick<Route, 'path' | 'bendRadius'>,
): Bay {
  const edited = (candidate: Candidate): Candidate => ({
    ...candidate,
    pipes: candidate.pipes?.map((pipe) => (pipe.id === pipeId ? routed(pipe, route) : pipe)),
  })
  const candidates = bay.candidates.map((candidate) => (candidate.id === candidateId ? edited(candidate) : candidate))
  return { ...bay, candidates }
}

function routed({ elbows: _, ...pipe }: Pipe, { path, bendRadius }: Pick<Route, 'path' | 'bendRadius'>): Pipe {
  return { ...pipe, bendRadius, path: path.map(([x, y, z]) => [x, y, z]) }
}
