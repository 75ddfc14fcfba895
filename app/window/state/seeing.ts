import { dot } from '../../../core/shape/vec.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { type CutPlane, cutPlane } from '../seeing/cutPlane.ts'
import type { Cut, CutWay, Seeing } from '../seeing/seeing.ts'
import { gapEnds } from '../../../core/sheet/figure/sideGaps.ts'
import { axesOf, type Rig } from '../viewport/camera.ts'
import { isAway } from './motion.ts'
import { pairKey } from './pairs.ts'
import { selectedPair, shownLedger, type WindowState, type WindowStore } from './windowState.ts'

/** The cut that is drawn at present, with its gap and its plane. */
export interface CutShown {
  readonly cut: Cut
  readonly pair: LedgerPair
  readonly plane: CutPlane
}

/** The row that the cut hangs on; null where there is none, or none is drawn: on its way in, gaps are those of the seat. */
export function cutPair(state: WindowState): LedgerPair | null {
  const { cut } = state.seeing
  if (!cut || isAway(state)) return null
  return shownLedger(state)?.ledger.pairs.find((pair) => pairKey(pair) === cut.pair) ?? null
}

export function cutShown(state: WindowState): CutShown | null {
  const { cut } = state.seeing
  const pair = cutPair(state)
  return cut && pair ? { cut, pair, plane: cutPlane(cut, gapEnds(pair)) } : null
}

export const see = (store: WindowStore, step: (seeing: Seeing) => Seeing): void =>
  store.setState(({ seeing }) => ({ seeing: step(seeing) }))

/** Cuts through the chosen gap; chosen once more, the cut is taken away. */
export function cutHere(store: WindowStore, rig: Rig): void {
  const pair = selectedPair(store.getState())
  if (!pair) return
  const key = pairKey(pair)
  see(store, (seeing) => ({
    ...seeing,
    cut: seeing.cut?.pair === key ? null : facing({ way: seeing.cut?.way ?? 'along', pair: key }, pair, rig),
  }))
}

/** The other way of cutting through the same gap. */
export function cutWay(store: WindowStore, way: CutWay, rig: Rig): void {
  const pair = cutPair(store.getState())
  if (pair) changeCut(store, (cut) => facing({ way, pair: cut.pair }, pair, rig))
}

/** What is taken away is what lies between the eye and the gap. */
function facing(cut: Pick<Cut, 'way' | 'pair'>, pair: LedgerPair, rig: Rig): Cut {
  const plain = { ...cut, offset: 0, flipped: false }
  return { ...plain, flipped: dot(cutPlane(plain, gapEnds(pair)).normal, axesOf(rig).eye) < 0 }
}

export const changeCut = (store: WindowStore, change: (cut: Cut) => Cut): void =>
  see(store, (seeing) => ({ ...seeing, cut: seeing.cut && change(seeing.cut) }))
