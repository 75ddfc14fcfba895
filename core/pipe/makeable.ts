import type { Bay, Pipe } from '../bay/schema.ts'
import type { Bender, BenderTool, StockElbow } from '../bay/workshopSchema.ts'
import { mix, type Vec3 } from '../shape/vec.ts'
import type { PipeReason } from './answer.ts'
import { type PutTogether, sameAngleDeg, sameLength, type Tube } from './tubes.ts'

/** Dies and tubes are the same size within this, mm. */
const sameSize = 0.01
/** Angles that a bender is held to count as equal within this, degrees. */
const sameBendDeg = 1e-6

/** The bender that a pipe is bent on, and what it has for this tube. */
export interface Bending {
  /** null where the bay has none. */
  readonly bender: Bender | null
  /** null where the bender has none for this diameter. */
  readonly tool: BenderTool | null
  /** Share by which a bend of this material springs open; null where the bender does not say. */
  readonly springBack: number | null
}

/**
 * The bender named by the pipe, else the bay's first, and its tool for this diameter: of several the one that has the
 * pipe's bend radius.
 */
export function bendingOf({ benders }: Bay, pipe: Pipe, material: string | null): Bending {
  const bender = (pipe.bender === undefined ? benders?.[0] : benders?.find(({ id }) => id === pipe.bender)) ?? null
  const fitting = (bender?.tools ?? []).filter(({ outsideDiameter }) => same(outsideDiameter, pipe.outsideDiameter))
  const tool = fitting.find(({ radii }) => hasRadius(radii, pipe.bendRadius)) ?? fitting[0] ?? null
  const ofMaterial = tool?.springBackOf?.find((entry) => entry.material === material)?.share
  return { bender, tool, springBack: ofMaterial ?? tool?.springBack ?? null }
}

const same = (a: number, b: number): boolean => Math.abs(a - b) <= sameSize
const hasRadius = (radii: readonly number[], radius: number): boolean => radii.some((each) => same(each, radius))

/** A tool's numbers as words of a list: `57, 85.5`. */
const listText = (numbers: readonly number[]): string => [...numbers].sort((a, b) => a - b).join(', ')

/** A run with where its points are. */
export interface Placed extends PutTogether {
  /** Of the pipe, both ends among them, bay frame, mm. */
  readonly points: readonly Vec3[]
}

/**
 * Why a run cannot be bent.
 * @returns with codes 'negative-straight' and 'bend-too-tight' (radius below the tube's), and against the bender
 *   'no-tool', 'no-radius', 'angle-too-large', 'set-angle-too-large' (with spring-back), 'short-between' and 'short-end'.
 *   A bay without a bender gives none of the latter, nor does a run without bends. `point` is the bend concerned.
 *   Radii and diameters count as equal within 0.01 mm, lengths within 1e-6 mm.
 */
export function bendReasons(pipe: Pipe, placed: Placed, { bender, tool }: Bending): PipeReason[] {
  const bends = placed.tubes.flatMap(({ corners }) => corners)
  const shape = [...negativeStraights(placed), ...tooTight(pipe, placed, bends)]
  if (!bender || bends.length === 0) return shape
  const missing = missingDie(pipe, { bender, tool })
  if (!tool) return [...shape, ...(missing ? [missing] : [])]
  return [
    ...shape,
    ...(missing ? [{ ...missing, point: bends[0], at: placed.points[bends[0]] }] : []),
    ...placed.tubes.flatMap((tube) => [...largeAngles(tube, placed, tool), ...shortStraights(tube, placed, tool)]),
  ]
}

function negativeStraights(placed: Placed): PipeReason[] {
  const { straights, corners } = placed.run
  return straights.flatMap((straight, k): PipeReason[] => {
    if (straight >= -sameLength) return []
    const told = { point: corners[Math.max(0, k - 1)], at: middle(placed, k), got: straight }
    const end = k === 0 ? 'from' : k === straights.length - 1 ? 'to' : null
    return [{ code: 'negative-straight', ...told, ...(end && { end }) }]
  })
}

function tooTight({ bendRadius, outsideDiameter }: Pipe, { points }: Placed, bends: readonly number[]): PipeReason[] {
  if (bends.length === 0 || bendRadius >= outsideDiameter / 2 - sameLength) return []
  const [point] = bends
  return [{ code: 'bend-too-tight', point, at: points[point], expected: outsideDiameter / 2, got: bendRadius }]
}

/**
 * Why this bender cannot make any bend of a pipe, wherever it lies: 'no-tool' for its diameter, 'no-radius' for its bend
 * radius. Null where it has the die, and where there is no bender to ask.
 */
export function missingDie(
  { outsideDiameter, bendRadius }: Pick<Pipe, 'outsideDiameter' | 'bendRadius'>,
  { bender, tool }: Pick<Bending, 'bender' | 'tool'>,
): PipeReason | null {
  if (!bender) return null
  if (!tool) {
    const expected = listText([...new Set(bender.tools.map((each) => each.outsideDiameter))])
    return { code: 'no-tool', expected, got: outsideDiameter, of: bender.name }
  }
  if (hasRadius(tool.radii, bendRadius)) return null
  return { code: 'no-radius', expected: listText(tool.radii), got: bendRadius, of: bender.name }
}

function largeAngles(
  { table, corners, setAngles }: Tube,
  { points }: Placed,
  { largestAngle }: BenderTool,
): PipeReason[] {
  return corners.flatMap((point, k): PipeReason[] => {
    const angle = table[k].angle ?? 0
    const set = setAngles?.[k] ?? angle
    const told = { point, at: points[point], expected: largestAngle }
    if (angle > largestAngle + sameBendDeg) return [{ code: 'angle-too-large', ...told, got: angle }]
    return set > largestAngle + sameBendDeg ? [{ code: 'set-angle-too-large', ...told, got: set }] : []
  })
}

function shortStraights({ straights, corners, between }: Tube, placed: Placed, tool: BenderTool): PipeReason[] {
  if (corners.length === 0) return []
  const inBetween = Math.max(tool.grip, tool.leastStraight)
  const lastOfRun = placed.run.straights.length - 1
  return straights.flatMap((straight, k): PipeReason[] => {
    const atEnd = k === 0 || k === straights.length - 1
    const expected = atEnd ? tool.leastEnd : inBetween
    // A negative one is told as such.
    if (straight >= expected - sameLength || straight < -sameLength) return []
    const told = { point: corners[Math.max(0, k - 1)], at: middle(placed, between[0] + k), expected, got: straight }
    if (!atEnd) return [{ code: 'short-between', ...told }]
    const end = between[0] + k === 0 ? 'from' : between[0] + k === lastOfRun ? 'to' : null
    return [end ? { code: 'short-end', ...told, end } : { code: 'short-at-weld', ...told }]
  })
}

/** Middle of a leg of the run: where its straight is, near enough to point at. */
function middle({ run, points }: Placed, straight: number): Vec3 {
  const kept = [0, ...run.corners, points.length - 1]
  return mix(points[kept[straight]], points[kept[straight + 1]], 0.5)
}

/** The outside of a bend stretches by more than this share: tube needs looking after. Common practice, no source. */
const muchStrain = 0.34

/**
 * What is to be watched, or not known, of bends on this bender.
 * @returns notes 'no-bender', 'no-spring-back', 'no-elongation' where the bay does not say, and where the bends stretch
 *   their outside by more than 34 % 'outside-stretches' (`got`: the share) and 'outside-thins' (`expected`: the wall,
 *   `got`: what is left of it, mm). The neutral fibre is taken on the centreline and no tube as pushed along: strain
 *   D / 2R, wall t · R / (R + D/2), an upper bound of thinning (derived; checks D2.4, D2.5).
 */
export function bendNotes(pipe: Pipe, { tubes, points }: Placed, { bender, tool, springBack }: Bending): PipeReason[] {
  const [point] = tubes.flatMap(({ corners }) => corners)
  if (point === undefined) return []
  const of = bender?.name
  const unknown: PipeReason[] = bender
    ? [
        ...(tool && springBack === null ? [{ code: 'no-spring-back', of }] : []),
        ...(tool && tool.elongation === undefined ? [{ code: 'no-elongation', of }] : []),
      ]
    : [{ code: 'no-bender' }]
  const { outsideDiameter, bendRadius, wall } = pipe
  const strain = outsideDiameter / (2 * bendRadius)
  if (strain <= muchStrain) return unknown
  // All bends have the one radius; the first is where it can be shown.
  const told = { at: points[point] }
  const left = (wall * bendRadius) / (bendRadius + outsideDiameter / 2)
  return [
    ...unknown,
    { code: 'outside-stretches', ...told, got: strain },
    { code: 'outside-thins', ...told, expected: wall, got: left },
  ]
}

/** @returns 'elbow-angle' where a corner turns more than its elbow does, by more than 0.01° */
export function elbowReasons(
  { run, points }: Placed,
  elbowAt: (point: number) => StockElbow | undefined,
): PipeReason[] {
  return run.corners.flatMap((point, bend): PipeReason[] => {
    const elbow = elbowAt(point)
    const angle = run.table[bend].angle ?? 0
    if (!elbow || angle <= elbow.angle + sameAngleDeg) return []
    return [{ code: 'elbow-angle', point, at: points[point], expected: elbow.angle, got: angle, of: elbow.name }]
  })
}
