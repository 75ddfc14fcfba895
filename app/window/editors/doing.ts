import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import { doEdit, type WindowStore } from '../state/windowState.ts'

/** Does one named step. @returns why the bay does not take it; null where it does */
export function step(store: WindowStore, label: string, apply: (bay: Bay) => Bay): Fault | null {
  const done = doEdit(store, { name: 'make', label, undo: 'step', apply })
  return done.ok ? null : done.faults[0]
}
