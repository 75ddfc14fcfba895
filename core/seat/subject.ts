import { candidateParts } from '../bay/parts.ts'
import { keepOutSolids, leftOutIds } from '../bay/keepOuts.ts'
import { askedBy } from '../bay/defaults.ts'
import { exemptionsOf } from '../bay/part.ts'
import type { KeepOutSolid, Meshes, Part } from '../bay/part.ts'
import type { Bay, Candidate, KeepOut } from '../bay/schema.ts'
import type { Workshop } from '../bay/workshop.ts'
import { bad, good } from '../fault.ts'
import type { Outcome } from '../fault.ts'
import type { Solid } from '../shape/form.ts'
import { placedBack, turnedBack, type Pose, type Vec3 } from '../shape/vec.ts'
import { candidateOf } from '../verdict/ledger.ts'
import type { Standing } from './answer.ts'
import { enclosures } from './enclose.ts'
import { poseOf } from './move.ts'
import { type Obstacle, obstaclesOf } from './obstacle.ts'

/** Wanted on the way where nothing else is said, mm. Common practice, no source: room for a hand's tremble. */
export const defaultNeed = 3

/** One convex piece of what moves, in the candidate's frame (core's centre at the origin, not turned), mm. */
export interface SeatPiece {
  readonly part: string
  /** Convex hull of these points, x, y, z after each other. */
  readonly points: Float64Array
  /** Outward normals of planes close about it, x, y, z after each other; only to bound with. */
  readonly normals: Float64Array
  /** Box about it along the candidate's own axes. */
  readonly low: Vec3
  readonly high: Vec3
  /** It reaches at most this far beyond the real part, mm. */
  readonly excess: number
  /** What manufacture may add, mm. */
  readonly tolerance: number
  /** Only this keep-out is held against it, where there is one named. */
  readonly only: string | null
  /** These keep-outs are not held against it: other pieces are. */
  readonly except: readonly string[]
}

/** One keep-out that stays while the part is offered up. */
export interface SeatKeepOut {
  readonly id: string
  /** min(need, its own clearance) + uncertainty, mm; the part's tolerance comes on top. */
  readonly wanted: number
  readonly obstacles: readonly Obstacle[]
}

/** What is offered up, and past what. */
export interface SeatSubject {
  readonly candidate: Candidate
  readonly standing: Standing
  readonly seat: Pose
  readonly pieces: readonly SeatPiece[]
  readonly keepOuts: readonly SeatKeepOut[]
  readonly need: number
  /** Keep-outs that come off, and those left out for a look. */
  readonly off: readonly string[]
  readonly leftOut: readonly string[]
  /** What moves without being held against a keep-out at all, or only with a share of it. */
  readonly exempt: readonly { readonly part: string; readonly keepOut: string }[]
  /** Names of the parts that move, and of those put on after. */
  readonly withPart: readonly string[]
  readonly after: readonly string[]
}

export interface SubjectOptions {
  /** Wanted on the way, mm; each keep-out's own clearance caps it. */
  readonly need?: number
  /** Where solids are kept between questions. */
  readonly workshop?: Workshop
}

/**
 * What moves and what stays, for one candidate.
 * @param need default 3 mm; not negative
 * @returns faults: those of solids that cannot be made, 'need-out-of-range', 'nothing-stays' where
 *   nothing stays that the part could meet
 */
export function seatSubject(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  { need = defaultNeed, workshop }: SubjectOptions = {},
): Outcome<SeatSubject> {
  if (!(need >= 0 && need < 1e7))
    return bad({ code: 'need-out-of-range', field: 'need', expected: 'a clearance of 0 mm or more', got: need })
  const candidate = candidateOf(bay, candidateId)
  if (!candidate.ok) return candidate
  const solids = keepOutSolids(bay, meshes, workshop)
  const parts = candidateParts(bay, candidate.value, workshop)
  if (!solids.ok || !parts.ok) return bad(...(solids.ok ? [] : solids.faults), ...(parts.ok ? [] : parts.faults))
  const staying = solids.value.filter(({ keepOut }) => stays(keepOut))
  if (staying.length === 0)
    return bad({ code: 'nothing-stays', field: 'keepOuts', expected: 'at least one keep-out that stays' })
  const moving = parts.value.parts.filter((part) => goesIn(candidate.value, part))
  const standing: Standing = { at: candidate.value.at, turn: candidate.value.turn }
  const seat = poseOf(standing)
  return good({
    candidate: candidate.value,
    standing,
    seat,
    pieces: moving.flatMap((part) => piecesOf(part, seat, staying)),
    keepOuts: staying.map((each) => keepOutOf(each, need)),
    need,
    off: solids.value.filter(({ keepOut }) => keepOut.fitting === 'comes-off').map(({ id }) => id),
    leftOut: leftOutIds(bay),
    exempt: moving.flatMap((part) =>
      [...exemptionsOf(part).keys()]
        .filter((other) => staying.some(({ id }) => id === other))
        .map((keepOut) => ({ part: part.name, keepOut })),
    ),
    withPart: moving.map(({ name }) => name),
    after: parts.value.parts.filter((part) => !moving.includes(part)).map(({ name }) => name),
  })
}

/** Whether it is in place while the part is offered up. */
export const stays = ({ fitting }: KeepOut): boolean => fitting !== 'comes-off'

/** The body always, a mount unless it is put on after; a pipe with all that is joined to it where it says so. */
function goesIn(candidate: Candidate, { run, mount }: Part): boolean {
  if (mount) return mount.fitting === 'with-part'
  if (!run) return true
  const pipe = candidate.pipes?.find(({ id }) => id === run.id)
  return pipe?.fitting === 'with-part'
}

function keepOutOf({ id, keepOut, solid }: KeepOutSolid, need: number): SeatKeepOut {
  const { required, uncertainty } = askedBy(keepOut)
  return { id, wanted: Math.min(need, required) + uncertainty, obstacles: obstaclesOf(solid) }
}

/**
 * Exempt as in the ledger: a pipe near a port of the car that belongs to a keep-out, a mount from what it is fixed to. All the
 * way, since what touches at the seat does so just before it, too; `exempt` says so.
 */
function piecesOf(part: Part, seat: Pose, staying: readonly KeepOutSolid[]): SeatPiece[] {
  const exempt = [...exemptionsOf(part)].filter(([other]) => staying.some(({ id }) => id === other))
  const except = exempt.map(([other]) => other)
  return [
    ...piecesOfSolid(part.solid, part, seat, null, except),
    ...exempt.flatMap(([other, { rest }]) => (rest ? piecesOfSolid(rest, part, seat, other, []) : [])),
  ]
}

function piecesOfSolid(
  solid: Solid,
  { name, tolerance }: Part,
  seat: Pose,
  only: string | null,
  except: readonly string[],
): SeatPiece[] {
  return solid.forms.flatMap(enclosures).map(({ points, excess, normals }): SeatPiece => {
    const own = points.map((point) => placedBack(seat, point))
    const bound = (k: number, choose: (...x: number[]) => number) => own.reduce((m, p) => choose(m, p[k]), own[0][k])
    return {
      part: name,
      points: Float64Array.from(own.flat()),
      normals: Float64Array.from(normals.flatMap((n) => turnedBack(seat.turn, n))),
      low: [bound(0, Math.min), bound(1, Math.min), bound(2, Math.min)],
      high: [bound(0, Math.max), bound(1, Math.max), bound(2, Math.max)],
      excess,
      tolerance,
      only,
      except,
    }
  })
}
