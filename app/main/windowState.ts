import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'

export interface Bounds {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

export interface WindowState {
  /** Of the window when it is not maximised, in the system's points. */
  readonly bounds: Bounds | null
  readonly maximised: boolean
}

export const leastSize = { width: 720, height: 520 }
const usualSize = { width: 1440, height: 900 }

const nothingKnown: WindowState = { bounds: null, maximised: false }

/** The state kept from last time; whatever cannot be read counts as nothing kept. */
export function readState(file: string): WindowState {
  try {
    const { bounds, maximised } = JSON.parse(readFileSync(file, 'utf8')) as Partial<WindowState>
    return { bounds: isBounds(bounds) ? bounds : null, maximised: maximised === true }
  } catch {
    return nothingKnown
  }
}

/** Keeps the state; a disk that cannot be written costs the place of a window, not the work in it. */
export function keepState(file: string, state: WindowState): void {
  try {
    mkdirSync(dirname(file), { recursive: true })
    writeFileSync(file, JSON.stringify(state))
  } catch {}
}

/**
 * Where to open: as last time if a fair part of that still lies on a screen, else in the usual size where the system
 * puts it, but no larger than the screen.
 * @param screens work areas of all screens, the main one first
 */
export function placeFor({ bounds }: WindowState, screens: readonly Bounds[]): Partial<Bounds> {
  const [main] = screens
  const size = (wanted: { width: number; height: number }, room: Bounds | undefined) => ({
    width: Math.max(leastSize.width, Math.min(wanted.width, room?.width ?? wanted.width)),
    height: Math.max(leastSize.height, Math.min(wanted.height, room?.height ?? wanted.height)),
  })
  const seenOn = bounds && screens.find((screen) => canBeGrasped(bounds, screen))
  return seenOn ? { x: bounds.x, y: bounds.y, ...size(bounds, seenOn) } : size(usualSize, main)
}

/** Enough of the title bar on the screen to take hold of it. */
function canBeGrasped(bounds: Bounds, screen: Bounds): boolean {
  const width = Math.min(bounds.x + bounds.width, screen.x + screen.width) - Math.max(bounds.x, screen.x)
  return width >= 100 && bounds.y >= screen.y && bounds.y <= screen.y + screen.height - 40
}

function isBounds(value: unknown): value is Bounds {
  if (typeof value !== 'object' || value === null) return false
  const { x, y, width, height } = value as Partial<Bounds>
  return [x, y, width, height].every(Number.isSafeInteger) && Number(width) > 0 && Number(height) > 0
}
