import type { BayView, Entry } from './bayView.ts'
import { idsOf } from './bayView.ts'
import type { Path } from './jsonText.ts'
import { mountTroubles } from './mountSense.ts'
import { pipeTroubles } from './pipeSense.ts'
import type { Candidate, Limits, Tank } from './schema.ts'
import { duplicateIds } from './reference.ts'
import { leastLeaving, leaving, sides, stubDirection, tankFrame } from './tankPort.ts'
import type { Side } from './tankPort.ts'
import type { Trouble } from './trouble.ts'

/** What is wrong between the fields of a candidate, and between it and the rest of the bay. */
export function candidateTroubles({ path, item }: Entry<Candidate>, view: BayView): Trouble[] {
  const tanks = sides.flatMap((side) => {
    const tank = item.tanks?.[side]
    return tank ? tankTroubles(tank, side, item, [...path, 'tanks', side]) : []
  })
  const { pipes = [], mounts = [] } = item
  return [
    ...tanks,
    ...duplicateIds(idsOf(pipes, [...path, 'pipes'])),
    ...pipes.flatMap((pipe, index) => pipeTroubles(pipe, item, view, [...path, 'pipes', index])),
    ...duplicateIds(idsOf(mounts, [...path, 'mounts'])),
    ...mounts.flatMap((mount, index) => mountTroubles(mount, item, view, [...path, 'mounts', index])),
    ...limitTroubles(item.limits ?? {}, [...path, 'limits']),
  ]
}

function tankTroubles(tank: Tank, side: Side, { core }: Candidate, path: Path): Trouble[] {
  const troubles: Trouble[] = []
  const depth = core.depth + tank.front + tank.rear
  const height = core.height + tank.below + tank.above
  if (!(depth > 0))
    troubles.push({
      code: 'foot-not-positive',
      path: [...path, 'front'],
      expected: 'a foot with some depth left: core depth + front + rear above 0',
      got: depth,
    })
  if (!(height > 0))
    troubles.push({
      code: 'foot-not-positive',
      path: [...path, 'below'],
      expected: 'a foot with some height left: core height + below + above above 0',
      got: height,
    })
  const ports = tank.ports ?? []
  troubles.push(...duplicateIds(idsOf(ports, [...path, 'ports'])))
  ports.forEach((port, index) => {
    if (depth > 0 && height > 0 && leaving(port, side, tankFrame(core, tank, side)) < leastLeaving)
      troubles.push({
        code: 'points-inward',
        path: [...path, 'ports', index, 'direction'],
        expected: `a direction that leaves the ${port.face} face, by 6° at least`,
        got: port.direction ?? stubDirection(port, side),
      })
  })
  return troubles
}

const largestTilt = 45

function limitTroubles(limits: Limits, path: Path): Trouble[] {
  const troubles: Trouble[] = []
  const order = (low: number | undefined, high: number | undefined, at: Path) => {
    if (low !== undefined && high !== undefined && low > high)
      troubles.push({ code: 'min-over-max', path: at, expected: `at most max, ${high}`, got: low })
  }
  for (const name of ['depth', 'width', 'height', 'tilt'] as const)
    order(limits[name]?.min, limits[name]?.max, [...path, name, 'min'])
  for (const axis of [0, 1, 2])
    order(limits.centre?.min[axis], limits.centre?.max[axis], [...path, 'centre', 'min', axis])
  for (const end of ['min', 'max'] as const) {
    const tilt = limits.tilt?.[end]
    if (tilt !== undefined && Math.abs(tilt) > largestTilt)
      troubles.push({
        code: 'tilt-too-large',
        path: [...path, 'tilt', end],
        expected: `within ±${largestTilt} degrees`,
        got: tilt,
      })
  }
  return troubles
}
