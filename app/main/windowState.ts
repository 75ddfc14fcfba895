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
/** Places are kept for so many bays; windows without a bay share one. */
const most = 20
const withoutBay = ''

const nothingKnown: WindowState = { bounds: null, maximised: false }

/** The place where this bay's window was last, or else the last window of all; unreadable counts as nothing kept. */
export function readState(file: string, bay: string | undefined): WindowState {
  const kept = readAll(file)
  return kept.get(bay ?? withoutBay) ?? [...kept.values()].at(-1) ?? nothingKnown
}

/** Keeps the place; a disk that cannot be written costs the place of a window, not the work in it. */
export function keepState(file: string, bay: string | undefined, state: WindowState): void {
  const kept = readAll(file)
  // Put last: the order tells which is the newest.
  kept.delete(bay ?? withoutBay)
  kept.set(bay ?? withoutBay, state)
  try {
    mkdirSync(dirname(file), { recursive: true })
    writeFileSync(file, JSON.stringify({ version: 1, windows: [...kept].slice(-most) }))
  } catch {}
}

function readAll(file: string): Map<string, WindowState> {
  try {
    const { windows } = JSON.parse(readFileSync(file, 'utf8')) as { windows?: unknown }
    const entries = Array.isArray(windows) ? windows.filter(isEntry) : []
    return new Map(entries.map(([bay, { bounds, maximised }]) => [bay, stateOf(bounds, maximised)]))
  } catch {
    return new Map()
  }
}

const isEntry = (entry: unknown): entry is [string, Partial<WindowState>] =>
  Array.isArray(entry) && typeof entry[0] === 'string' && typeof entry[1] === 'object' && entry[1] !== null

const stateOf = (bounds: unknown, maximised: unknown): WindowState => ({
  bounds: isBounds(bounds) ? bounds : null,
  maximised: maximised === true,
})

const step = 32

/**
 * Where to open: as last time if a fair part of that still lies on a screen, else in the usual size where the system
 * puts it, but no larger than the screen. A window that would lie exactly over another one moves a step aside.
 * @param screens work areas of all screens, the main one first
 * @param taken places of the windows that are open
 */
export function placeFor(
  { bounds }: WindowState,
  screens: readonly Bounds[],
  taken: readonly Bounds[] = [],
): Partial<Bounds> {
  const [main] = screens
  const size = (wanted: { width: number; height: number }, room: Bounds | undefined) => ({
    width: Math.max(leastSize.width, Math.min(wanted.width, room?.width ?? wanted.width)),
    height: Math.max(leastSize.height, Math.min(wanted.height, room?.height ?? wanted.height)),
  })
  const seenOn = bounds && screens.find((screen) => canBeGrasped(bounds, screen))
  if (!seenOn) return size(usualSize, main)
  let { x, y } = bounds
  while (taken.some((other) => other.x === x && other.y === y)) {
    x += step
    y += step
  }
  const place = { x, y, ...size(bounds, seenOn) }
  return canBeGrasped(place, seenOn) ? place : size(bounds, seenOn)
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
