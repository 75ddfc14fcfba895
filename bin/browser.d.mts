interface Machine {
  platform?: string
  env?: Record<string, string | undefined>
  exists?: (path: string) => boolean
  home?: string
}
export function findBrowser(machine?: Machine): string | null
export function hasDisplay(machine?: Pick<Machine, 'platform' | 'env'>): boolean
export function isLinuxRoot(machine?: { platform?: string; uid?: number }): boolean
