import { clearance } from '../clearance/clearance.ts'
import { boxGap } from '../clearance/formBounds.ts'
import type { Solid } from '../shape/form.ts'
import { placedBack, type Vec3 } from '../shape/vec.ts'
import { convexTargets, deepInBoth, type LocalBody, placedSolid, signedDistance } from './placeBody.ts'
import type { PlacePair, PlaceRange, SignedDistance, Witness } from './placeWitness.ts'

export interface Asked {
  /** Proved least margin, mm; not below what overlaps are known to be deep. */
  readonly margin: number
  readonly witnesses: readonly Witness[]
}

/** The clearance engine, asked for a candidate in any state of the range. */
export class PlaceEngine {
  private readonly targets = new Map<string, SignedDistance[]>()
  private readonly pairs: readonly PlacePair[]
  private readonly range: PlaceRange

  constructor(pairs: readonly PlacePair[], range: PlaceRange) {
    this.pairs = pairs
    this.range = range
  }

  /**
   * Asks the engine at a state: the proved least margin, and the nearest keep-out point of every pair with a margin below
   * `interest`.
   */
  asked(state: Float64Array, interest: number): Asked {
    const pose = this.range.poseAt([state[0], state[1], state[2]], state[3])
    const solids = new Map<LocalBody, Solid>()
    const margins: { pair: PlacePair; margin: number; onPart: Vec3; onKeepOut: Vec3; inBoth?: Vec3 }[] = []
    for (const pair of this.pairs) {
      const solid = solids.get(pair.body) ?? placedSolid(pair.body, pose)
      solids.set(pair.body, solid)
      const upTo = Math.max(0, interest + pair.wanted)
      const apart = boxGap(solid.bounds, pair.keepOut.solid.bounds)
      if (apart > upTo) continue
      const answer = clearance(solid, pair.keepOut.solid, { upTo: Number.isFinite(upTo) ? upTo : undefined })
      const depth = answer.overlap ? answer.overlap.depthAtLeast : 0
      const inBoth = depth > 0 ? deepInBoth(solid, pair.keepOut.solid) : undefined
      const { onPart, onKeepOut } = answer
      margins.push({ pair, margin: answer.atLeast - depth - pair.wanted, onPart, onKeepOut, inBoth })
    }
    // What was not asked is farther than `interest` for sure.
    const margin = margins.reduce((least, m) => Math.min(least, m.margin), interest)
    const witnesses = margins
      .filter((m) => m.margin < interest)
      .flatMap(({ pair, onPart, onKeepOut, inBoth }) => [
        ...this.witnessesOf(pair, placedBack(pose, onPart), onPart, onKeepOut),
        // Plates that cross have their deepest corners outside of each other; the middle of what they share tells more.
        ...(inBoth ? this.witnessesOf(pair, placedBack(pose, inBoth), inBoth, inBoth) : []),
      ])
    return { margin, witnesses }
  }

  private witnessesOf(pair: PlacePair, local: Vec3, onPart: Vec3, onKeepOut: Vec3): Witness[] {
    const fixed: Witness = {
      pair,
      side: 'fixed',
      point: onKeepOut,
      distance: (x, y, z) => signedDistance(pair.body, x, y, z),
    }
    const { id, solid } = pair.keepOut
    let targets = this.targets.get(id)
    if (!targets) {
      targets = convexTargets(solid)
      this.targets.set(id, targets)
    }
    if (targets.length === 0) return [fixed]
    // The distance to the nearest piece is never less than the distance to their union.
    const distances = targets.map((target) => target(onPart[0], onPart[1], onPart[2]))
    const distance = targets[distances.indexOf(Math.min(...distances))]
    return [fixed, { pair, side: 'moving', point: local, distance }]
  }
}
