import { createContext, useContext } from 'react'
import { useStore } from 'zustand'
import type { Eye } from '../viewport/eye.ts'
import type { KeepingState } from './keeping.ts'
import type { AidState } from './aids.ts'
import type { Known } from './compareRoom.ts'
import type { SearchState } from './searches.ts'
import type { SheetsState } from './sheets.ts'
import type { WindowState } from './windowState.ts'
import type { Workroom } from './workroom.ts'

/** What every component may reach: the workroom with its stores, and the camera. */
export interface Here {
  readonly room: Workroom
  readonly eye: Eye
}

export const HereContext = createContext<Here | null>(null)

export function useHere(): Here {
  const here = useContext(HereContext)
  if (!here) throw new Error('a component stands outside the window')
  return here
}

/** Part of the window's state; the component is drawn anew only when that part changes. */
export function useWindow<T>(pick: (state: WindowState) => T): T {
  return useStore(useHere().room.store, pick)
}

/** Part of what is searched for in the second worker. */
export function useSearches<T>(pick: (state: SearchState) => T): T {
  return useStore(useHere().room.searches.store, pick)
}

/** Part of what is laid over the window to find, compare and learn. */
export function useAids<T>(pick: (state: AidState) => T): T {
  return useStore(useHere().room.aids, pick)
}

/** What is known of the candidates in the comparison. */
export function useKnown(): Known {
  return useStore(useHere().room.compare.store, ({ known }) => known)
}

/** Part of what is asked and shown of the sheets. */
export function useSheets<T>(pick: (state: SheetsState) => T): T {
  return useStore(useHere().room.sheets.store, pick)
}

/** Part of what is asked about files and unsaved work. */
export function useKeeping<T>(pick: (state: KeepingState) => T): T {
  return useStore(useHere().room.keeping.store, pick)
}
