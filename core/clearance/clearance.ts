import { FaultError } from '../fault.ts'
import type { ConvexForm, Form, MeshForm, Solid } from '../shape/form.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'
import { convexesMesh } from './convexMesh.ts'
import { failedPair } from './failedPair.ts'
import { boxGap, formBounds } from './formBounds.ts'
import { pairClearance } from './pairs.ts'
import { carriedBack, meetingPoint, recentred } from './recentred.ts'
import { sub, type Vec3 } from '../shape/vec.ts'

/**
 * Gap between two solids, with what is proved about it: the one way in for everyone who asks.
 * @param part, keepOut  in the bay frame, mm; anywhere within ±10 km (they are brought near the origin here)
 * @param options  see `ClearanceOptions`; `upTo` never changes an answer below it
 * @returns bounds in mm with witnesses in the bay frame. Touching or overlapping: 0, with the depth; the depth is exact
 * where both solids are one convex form or half-space each (and where the pair says so), else the greatest depth proved
 * for any two of their forms.
 * Error: at most 0.001 mm, mostly 1e-9, unless stopped is 'upTo' or 'limit'.
 * Edge cases: a solid of several forms is their union, inner faces between them included: a point inside has gap 0 all
 * the same. A solid without forms is a fault ('empty-solid').
 * Nearest points may jump between equal ones; the gap is continuous in the pose.
 */
export function clearance(part: Solid, keepOut: Solid, options: ClearanceOptions = {}): Clearance {
  if (part.forms.length === 0 || keepOut.forms.length === 0)
    throw new FaultError([{ code: 'empty-solid', expected: 'at least one form' }])
  const centre = meetingPoint(part, keepOut)
  const near = centre.every((x) => x === 0)
  const answer = near
    ? overForms(part, keepOut, options, (form) => form)
    : back(
        overForms(part, keepOut, moved(options, centre), (form) => recentred(form, centre)),
        centre,
      )
  if (!isSound(answer)) failedPair('Clearance came to bounds that cannot be', { part, keepOut, options })
  return answer
}

function moved(options: ClearanceOptions, centre: Vec3): ClearanceOptions {
  const { near } = options
  return near
    ? { ...options, near: { onPart: sub(near.onPart, centre), onKeepOut: sub(near.onKeepOut, centre) } }
    : options
}

const back = (answer: Clearance, centre: Vec3): Clearance => ({
  ...answer,
  onPart: carriedBack(answer.onPart, centre),
  onKeepOut: carriedBack(answer.onKeepOut, centre),
})

function isSound({ atLeast, atMost, onPart, onKeepOut, overlap }: Clearance): boolean {
  // NaN fails every comparison.
  if (!(atLeast >= 0 && atLeast <= atMost && atMost < Infinity)) return false
  if (overlap && !(overlap.depthAtLeast >= 0 && overlap.depthAtLeast <= (overlap.depthAtMost ?? Infinity))) return false
  return onPart.every(Number.isFinite) && onKeepOut.every(Number.isFinite)
}

function overForms(part: Solid, keepOut: Solid, options: ClearanceOptions, brought: (form: Form) => Form): Clearance {
  if (part.forms.length === 1 && keepOut.forms.length === 1)
    return pairClearance(brought(part.forms[0]), brought(keepOut.forms[0]), options)
  const atOnce = convexPart(part, keepOut, options, brought)
  if (atOnce) return atOnce
  // Most promising first: the first answers make all later ones cheap.
  const order = part.forms
    .flatMap((a) => keepOut.forms.map((b) => ({ a, b, bound: boxGap(formBounds(a), formBounds(b)) })))
    .sort((p, q) => p.bound - q.bound)
  const bring = remembered(brought)
  let answer: Clearance | undefined
  for (const { a, b, bound } of order) {
    const limit = limitFor(answer, options)
    if (answer && bound >= limit) {
      answer = { ...answer, atLeast: Math.min(answer.atLeast, bound) }
      break
    }
    const next = pairClearance(bring(a), bring(b), { near: options.near, depth: options.depth, upTo: limit })
    answer = answer ? merged(answer, next) : asPartOfUnion(next)
    if (answer.overlap && options.depth === false) break
  }
  return withOwnStop(answer as Clearance, options)
}

/** A part of convex forms and a mesh, the commonest pair of all, in one search; undefined for others, and where they meet. */
function convexPart(
  part: Solid,
  keepOut: Solid,
  options: ClearanceOptions,
  brought: (form: Form) => Form,
): Clearance | undefined {
  if (keepOut.forms.length !== 1 || keepOut.forms[0].form !== 'mesh') return undefined
  if (!part.forms.every((form) => form.form === 'convex')) return undefined
  // Carrying a form somewhere else does not change its kind.
  return convexesMesh(part.forms.map(brought) as ConvexForm[], brought(keepOut.forms[0]) as MeshForm, options)
}

/** A pair that stopped at the best gap so far, and not at the caller's own `upTo`, leaves the whole search finished. */
function withOwnStop(answer: Clearance, { upTo = Infinity }: ClearanceOptions): Clearance {
  const isAsked = answer.atLeast >= upTo - 1e-9
  return answer.stopped === 'upTo' && !isAsked ? { ...answer, stopped: 'converged' } : answer
}

/** Carried only when their turn comes: pairs that the boxes settle never are. */
function remembered(brought: (form: Form) => Form): (form: Form) => Form {
  const kept = new Map<Form, Form>()
  return (form) => {
    const there = kept.get(form) ?? brought(form)
    kept.set(form, there)
    return there
  }
}

/** From here on a pair need not be followed. Once the solids meet, only pairs that meet too can say more of the depth. */
function limitFor(answer: Clearance | undefined, options: ClearanceOptions): number {
  const upTo = options.upTo ?? Infinity
  if (!answer) return upTo
  return answer.overlap ? Number.MIN_VALUE : Math.min(upTo, answer.atMost)
}

/** The depth of two forms bounds that of the unions from below only: what parts these need not part the others. */
function asPartOfUnion(answer: Clearance): Clearance {
  if (!answer.overlap) return answer
  return { ...answer, overlap: { kind: 'atLeast', depthAtLeast: answer.overlap.depthAtLeast } }
}

/** Of two pairs of forms: the nearer or, where both meet, the deeper one; the lower bound is the lesser of the two. */
function merged(a: Clearance, b: Clearance): Clearance {
  if (a.overlap && b.overlap) return a.overlap.depthAtLeast >= b.overlap.depthAtLeast ? a : asPartOfUnion(b)
  if (a.overlap) return a
  if (b.overlap) return asPartOfUnion(b)
  const nearer = a.atMost <= b.atMost ? a : b
  const lower = a.atLeast <= b.atLeast ? a : b
  return { ...nearer, atLeast: Math.min(lower.atLeast, nearer.atMost), stopped: lower.stopped }
}
