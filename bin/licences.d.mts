export interface Licence {
  name: string
  version: string
  licence: string
  shipped: boolean
  why?: string
  fault?: string
}
interface Lock {
  packages: Record<string, { dev?: boolean; license?: string; version?: string }>
}
export function isPermissive(expression: string): boolean
export function licences(lock: Lock, installedLicence: (path: string) => string | undefined): Licence[]
export function projectLicences(): Licence[]
