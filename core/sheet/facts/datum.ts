import { askedBy, defaultUncertainty } from '../../bay/defaults.ts'
import type { KeepOutSolid, Part } from '../../bay/part.ts'
import type { Bay } from '../../bay/schema.ts'
import { unionBounds } from '../../shape/bounds.ts'
import type { Bounds } from '../../shape/form.ts'
import { combined, tapeError } from './gauges.ts'
import type { DatumCheck } from './sheetFacts.ts'

const axes = ['x', 'y', 'z'] as const

/**
 * Places that a tape finds before the part is in: the flat faces, square to an axis, that the bay's fixed things turn to the
 * part, then fixings and ports. Measured first, they tell whether the frame of the bay is that of the car.
 */
export function datumChecks(
  { fixings = [], ports = [] }: Bay,
  parts: readonly Part[],
  keepOuts: readonly KeepOutSolid[],
): DatumCheck[] {
  const body = unionBounds(parts.filter(({ run }) => !run).map(({ solid }) => solid.bounds))
  const points = [
    ...fixings.map(({ id, name, at, uncertainty }) => ({ of: 'fixing' as const, id, name, at, uncertainty })),
    ...ports.map(({ id, name, at }) => ({ of: 'port' as const, id, name, at, uncertainty: undefined })),
  ]
  return [
    ...keepOuts.flatMap((keepOut) => facing(keepOut, body)),
    ...points.flatMap(({ of, id, name, at, uncertainty }) =>
      axes.map((axis, k) => check({ of, id, name, axis, predicted: at[k], ...known(uncertainty) })),
    ),
  ]
}

const known = (uncertainty: number | undefined) => ({
  uncertainty: uncertainty ?? defaultUncertainty,
  assumed: uncertainty === undefined,
})

type Place = Omit<DatumCheck, 'low' | 'high' | 'gaugeError'>

function check(place: Place): DatumCheck {
  const gaugeError = tapeError(place.predicted)
  const band = combined([place.uncertainty], [gaugeError])
  return { ...place, low: place.predicted - band, high: place.predicted + band, gaugeError }
}

/** The face of a box or half-space that looks at the part; none where it comes off, moves, or stands askew. */
function facing({ id, keepOut, solid }: KeepOutSolid, body: Bounds): DatumCheck[] {
  const { shape, name, role, fitting } = keepOut
  const isFlat = shape.kind === 'halfSpace' || (shape.kind === 'box' && (shape.turn ?? []).every((x) => x === 0))
  if (!isFlat || role === 'moving' || fitting === 'comes-off') return []
  const sides = axes.flatMap((axis, k) => [
    { axis, face: solid.bounds.max[k], apart: body.min[k] - solid.bounds.max[k] },
    { axis, face: solid.bounds.min[k], apart: solid.bounds.min[k] - body.max[k] },
  ])
  const nearest = sides.filter(({ face }) => Number.isFinite(face)).sort((a, b) => b.apart - a.apart)[0]
  if (!nearest) return []
  const { uncertainty, assumed } = askedBy(keepOut)
  const place = { of: 'keep-out', id, name, axis: nearest.axis, predicted: nearest.face, uncertainty } as const
  return [check({ ...place, assumed: assumed.includes('uncertainty') })]
}
