export const root: string
export const dist: string
export type Target = 'window' | 'cli' | 'serve' | 'main' | 'preload' | 'bench'
export const targets: readonly Target[]
export function isFresh(target: Target): boolean
export function ensureBuilt(wanted: readonly Target[]): Promise<Target[]>
export function buildNode(names?: readonly Target[]): Promise<void>
export function buildWindow(): Promise<void>
