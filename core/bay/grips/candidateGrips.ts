import { add, turned, turnMatrix, type Vec3 } from '../../shape/vec.ts'
import type { Candidate } from '../schema.ts'
import { sides, tankFrame } from '../tankPort.ts'
import { faceGrips, moveGrips, reachOf, turnGrips, type TurnedBox } from './boxGrips.ts'
import { type Grip, leastSize, type Slide, tidyPoint } from './grip.ts'

/**
 * What of a candidate can be taken hold of: its place, its turns, the six faces of its core, and the length of its tanks.
 * Pipes have corners of their own. Tanks go along with the faces that they sit on.
 * @returns bay frame, mm and degrees; ids: 'place', 'along-x', 'turn-y', 'face-rear', 'tank-left' and their like
 */
export function candidateGrips(candidate: Candidate): Grip<Candidate>[] {
  const { at, turn, core } = candidate
  const box: TurnedBox = { at, turn, size: [core.depth, core.width, core.height] }
  return [
    ...moveGrips(at, at, reachOf({ turn, size: withTanks(candidate) }), (to) => ({ ...candidate, at: tidyPoint(to) })),
    ...turnGrips(box, (to) => ({ ...candidate, turn: tidyPoint(to) })),
    ...faceGrips(box, (to, [depth, width, height]) => ({
      ...candidate,
      at: tidyPoint(to),
      core: { ...core, depth, width, height },
    })),
    ...tankGrips(candidate),
  ]
}

/** As wide as the longer tank would make it on both sides: what stands off from there is clear of both. */
function withTanks({ core, tanks }: Candidate): Vec3 {
  const longest = Math.max(tanks?.left?.length ?? 0, tanks?.right?.length ?? 0)
  return [core.depth, core.width + 2 * longest, core.height]
}

function tankGrips(candidate: Candidate): Slide<Candidate>[] {
  const { at, turn, core, tanks } = candidate
  const matrix = turnMatrix(turn)
  return sides.flatMap((side): Slide<Candidate>[] => {
    const tank = tanks?.[side]
    if (!tank) return []
    const { centre, outward } = tankFrame(core, tank, side)
    const end = add(centre, [0, outward * tank.length, 0])
    return [
      {
        kind: 'slide',
        id: `tank-${side}`,
        what: { kind: 'tank', side },
        group: 'size',
        at: add(at, turned(matrix, end)),
        way: add(turned(matrix, [0, outward, 0]), [0, 0, 0]),
        value: tank.length,
        least: leastSize,
        put: (length) => ({ ...candidate, tanks: { ...tanks, [side]: { ...tank, length } } }),
      },
    ]
  })
}
