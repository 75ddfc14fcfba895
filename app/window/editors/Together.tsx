import { createContext, type ReactNode, useContext, useRef } from 'react'
import type { FigureSpec } from './figure.ts'

/** Numbers that are one thing only together: a point, a direction, the sides of a box. */
export interface TogetherHere {
  readonly specs: readonly FigureSpec[]
  /** What was typed and the bay does not take alone, by the field's path; it is tried again with the next number. */
  readonly held: Map<string, { readonly spec: FigureSpec; readonly value: number }>
}

const Context = createContext<TogetherHere | null>(null)

/** What a field stands together with; null for a number that stands alone. */
export const useTogether = (): TogetherHere | null => useContext(Context)

/** Fields below may be filled all at once from one of them, and wait for each other where the bay takes none of them alone. */
export function Together({ specs, children }: { specs: readonly FigureSpec[]; children: ReactNode }) {
  const { current: held } = useRef<TogetherHere['held']>(new Map())
  return <Context value={{ specs, held }}>{children}</Context>
}
