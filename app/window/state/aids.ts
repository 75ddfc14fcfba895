import { createStore, type StoreApi } from 'zustand/vanilla'

/** What is laid over the window to find, compare and learn; nothing of it belongs to the bay or to undo. */
export interface AidState {
  readonly finding: boolean
  readonly comparing: boolean
  /** The shop's stock and tooling is edited. */
  readonly stocking: boolean
  /** Candidates in the comparison, in the order of the bay; null: the first ones, with the one that is looked at. */
  readonly compared: readonly string[] | null
  /** The candidate whose outlines are laid over the drawing. */
  readonly overlaid: string | null
  /** Step of the tour that is shown, from 0. */
  readonly tour: number | null
}

export type AidStore = StoreApi<AidState>

export const noAids: AidState = {
  finding: false,
  comparing: false,
  stocking: false,
  compared: null,
  overlaid: null,
  tour: null,
}
export const createAidStore = (): AidStore => createStore<AidState>(() => noAids)
