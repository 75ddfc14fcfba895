import { describe, expect, it } from 'vitest'
import { cornerCorridor, turnWidth } from '../../../test/kit/corridors.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { ledger } from '../../verdict/ledger.ts'
import { LedgerMemory } from '../../verdict/memory.ts'
import { judged, type Judging } from './judge.ts'
import { withRoute } from './withRoute.ts'

const { bay, candidate: id, pipe: pipeId } = cornerCorridor(4)
const [candidate] = bay.candidates
const [pipe] = candidate.pipes ?? []
const judging: Judging = { bay, candidate, pipe, meshes: new Map(), memory: new LedgerMemory() }

/** Along both outer walls, `off` mm from them. */
const hugging = (off: number): Vec3[] => [
  [-140, off, 0],
  [200 + turnWidth + 4 - off, off, 0],
  [200 + turnWidth + 4 - off, turnWidth + 344 - off, 0],
]

describe('what a route is judged by', () => {
  it('is the ledger: its least margin and where it is', () => {
    const verdict = judged(judging, hugging(31))
    const routed = ledger(withRoute(bay, id, pipeId, { path: hugging(31), bendRadius: 60 }), id, new Map())
    if (!routed.ok) throw new Error('no ledger')
    const [row] = routed.value.pairs.filter(({ part }) => part === 'pipe-run')
    expect(verdict?.least).toEqual({ margin: row.margin, keepOut: row.keepOut, at: row.onPart })
    // Floor and roof leave a tenth.
    expect(row.margin).toBeCloseTo(0.1, 4)
  })

  it('names the side on which it passes what is near', () => {
    const { sides } = judged(judging, hugging(31)) ?? { sides: new Map() }
    expect(Object.fromEntries(sides)).toMatchObject({ floor: 'above', roof: 'below', below: 'right', beyond: 'front' })
    expect(sides.get('corner')).toMatch(/^(left|behind)$/)
  })

  it('refuses what does not clear', () => {
    expect(judged(judging, hugging(29))).toBeNull()
  })

  it('refuses what the bender refuses: a radius that it has no die for', () => {
    const tighter: Judging = { ...judging, pipe: { ...pipe, bendRadius: 50 } }
    expect(judged(tighter, hugging(31))).toBeNull()
    const benders = bay.benders?.map((one) => ({
      ...one,
      tools: one.tools.map((tool) => ({ ...tool, radii: [50, 60] })),
    }))
    expect(judged({ ...tighter, bay: { ...bay, benders } }, hugging(31))).not.toBeNull()
  })

  it('refuses what cannot be rounded, and what is not routed', () => {
    expect(
      judged(judging, [
        [-140, -240, 0],
        [-130, 0, 0],
      ]),
    ).toBeNull()
    expect(judged(judging, [])).toBeNull()
  })
})
