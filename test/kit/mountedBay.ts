import type { Fixing, Mount } from '../../core/bay/mountSchema.ts'
import type { Bay, Candidate, KeepOut } from '../../core/bay/schema.ts'
import { bareCandidate, keepOut, tinyBay } from './tinyBay.ts'

/** A rail below the bare candidate: its top is at Z −60, 20 mm below the core's face. */
export const rail: KeepOut = keepOut('rail', { kind: 'box', at: [0, 0, -80], size: [40, 400, 40] })

/** An 8 mm stud on the rail's top, 20 mm below the middle of the core's face. */
export const stud = (change: Partial<Fixing> = {}): Fixing => ({
  id: 'stud',
  name: 'Stud',
  kind: 'stud',
  at: [0, 0, -60],
  axis: [0, 0, 1],
  diameter: 8,
  uncertainty: 0.5,
  sitsOn: 'rail',
  ...change,
})

/** A plate 60 × 40 × 3 on the core's lower face whose underside lies on the rail; one 10 mm hole in its middle. */
export const plate = (change: Partial<Mount> = {}, hole: Partial<HoleOf> = {}): Mount => ({
  id: 'foot',
  name: 'Foot',
  on: { part: 'core', face: 'below', u: 0, v: 0 },
  shape: {
    kind: 'plate',
    size: [60, 40],
    thickness: 3,
    standOff: 17,
    holes: [{ diameter: 10, fixing: 'stud', ...hole }],
  },
  ...change,
})
type HoleOf = NonNullable<Extract<Mount['shape'], { kind: 'plate' }>['holes']>[number]

export const mountedBay = (
  mounts: Mount[] = [plate()],
  fixings: Fixing[] = [stud()],
  change: Partial<Candidate> = {},
  keepOuts: KeepOut[] = [rail],
): Bay => ({ ...tinyBay(keepOuts, bareCandidate({ ...change, mounts })), fixings })
