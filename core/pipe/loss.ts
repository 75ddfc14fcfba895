import { FaultError } from '../fault.ts'
import type { Fault } from '../fault.ts'
import { bendCoefficient, bendRatios, bendReynolds } from './bendLoss.ts'
import type { Fluid } from './fluid.ts'
import { friction, laminarTo, largestRoughness, turbulentFrom } from './friction.ts'
import type { Friction } from './friction.ts'
import { stepCoefficient } from './stepLoss.ts'

/** Pressure loss of one pipe as a band between published methods, Pa. */
export interface PipeLoss {
  readonly atLeast: number
  readonly atMost: number
  /** m/s, in the pipe's bore. */
  readonly speed: number
  readonly reynolds: number
  /** Speed over that of sound; air only. */
  readonly mach?: number
  readonly items: readonly LossItem[]
  /** Where the methods are followed beyond what they were made for; worded with the pipe's other notes. */
  readonly notes: readonly LossNote[]
}

export interface LossItem {
  readonly what: 'friction' | 'bend' | 'widening' | 'narrowing'
  /** Number of the corner in the pipe's points, for bends. */
  readonly point?: number
  /** For what happens in the coupler at that end. */
  readonly end?: 'from' | 'to'
  readonly atLeast: number
  readonly atMost: number
  /** Names of the methods at the lower and the upper end. */
  readonly methods: readonly [string, string]
}

export interface LossNote {
  readonly code:
    | 'flow-laminar-bends'
    | 'flow-between'
    | 'flow-below-bends'
    | 'flow-bend-ratio'
    | 'flow-fast'
    | 'flow-density'
    | 'flow-rough'
  readonly point?: number
  readonly end?: 'from' | 'to'
  readonly expected?: number
  readonly got?: number
}

/** A pipe as the flow sees it. Lengths mm, angles degrees. */
export interface LossInput {
  readonly outsideDiameter: number
  readonly wall: number
  /** Of the tube's centreline, bends included. */
  readonly developed: number
  readonly bends: readonly { readonly radius: number; readonly angle: number; readonly point?: number }[]
  /** What lies in the couplers, beyond the tube. */
  readonly ends?: readonly LossEnd[]
  /** Of the inside wall; default that of drawn tube. */
  readonly roughness?: number
  readonly fluid: Fluid
  /** kg/s */
  readonly massFlow: number
  /** Whether it runs from the pipe's `from` to its `to`; only steps of bore ask. Default true. */
  readonly forward?: boolean
}

export interface LossEnd {
  readonly end: 'from' | 'to'
  /** Straight length between the two tubes; the cone's length where the bores differ. */
  readonly straight: number
  /** Of an elbow coupler. */
  readonly bend?: { readonly radius: number; readonly angle: number }
  /** Inside diameter of what the pipe is joined to; default the pipe's own. */
  readonly portBore?: number
}

/** Of drawn tube, mm: 0.000005 ft. L. F. Moody, Trans. ASME 66 (1944) 671 (from memory). */
export const drawnRoughness = 0.0015
/** From here on a gas may no longer be taken as of one density. Common practice. */
const fastMach = 0.3
/** Loss over absolute pressure from which a gas's density changes too much along the pipe. Crane TP-410 (from memory). */
const largestDrop = 0.1

/**
 * Pressure loss of one pipe, as a band over published methods: friction of its straights, its bends (friction along the
 * arcs in them), and what the couplers at its ends add.
 * @param input lengths in mm, flow kg/s; the fluid as at the pipe's beginning, of one density along it
 * @returns Pa, whole and item by item; both ends grow with flow and length. `notes` names every method that is followed
 *   beyond its validity: the truth may then lie outside the band
 * @throws FaultError 'not-finite', 'too-small', 'wall-too-thick': figures that the bay's reader refuses
 * Error: that of the methods; see friction.ts, bendLoss.ts, stepLoss.ts. Loss means total pressure; where the bore
 *   changes, static pressure changes beside it. An elbow coupler is counted with the pipe's bore.
 */
export function pipeLoss(input: LossInput): PipeLoss {
  refuse(input)
  const { fluid, massFlow, roughness = drawnRoughness } = input
  const bore = input.outsideDiameter - 2 * input.wall
  const speed = massFlow / (fluid.density * (Math.PI / 4) * (bore / 1000) ** 2)
  const reynolds = (fluid.density * speed * bore) / 1000 / fluid.viscosity
  const f = friction(reynolds, roughness / bore)
  const dynamic = (fluid.density * speed * speed) / 2
  const items = [
    frictionItem(input, bore, f, dynamic),
    ...bendItems(input, bore, f, dynamic),
    ...stepItems(input, bore, dynamic),
  ]
  const flow = { bore, speed, reynolds, roughness, ...bandOf(items) }
  return {
    ...bandOf(items),
    speed,
    reynolds,
    ...(fluid.gas && { mach: speed / fluid.gas.soundSpeed }),
    items,
    notes: notesOf(input, flow),
  }
}

/** Loss of pipes one after the other; null where there are none or one is not known. */
export function chainLoss(losses: readonly (PipeLoss | null)[]): Band | null {
  const known = losses.filter((loss): loss is PipeLoss => loss !== null)
  return known.length > 0 && known.length === losses.length ? bandOf(known) : null
}

interface Band {
  readonly atLeast: number
  readonly atMost: number
}

const bandOf = (items: readonly Band[]): Band => ({
  atLeast: items.reduce((sum, item) => sum + item.atLeast, 0),
  atMost: items.reduce((sum, item) => sum + item.atMost, 0),
})

const radians = Math.PI / 180

function frictionItem(
  { developed, bends, ends = [] }: LossInput,
  bore: number,
  f: Friction,
  dynamic: number,
): LossItem {
  const arcs = bends.reduce((sum, { radius, angle }) => sum + radius * angle * radians, 0)
  const straight = ends.reduce((sum, end) => sum + end.straight, Math.max(0, developed - arcs))
  const of = (factor: number) => ((factor * straight) / bore) * dynamic
  return { what: 'friction', atLeast: of(f.atLeast), atMost: of(f.atMost), methods: f.methods }
}

/** The pipe's own bends and those of elbow couplers. */
const everyBend = ({ bends, ends = [] }: LossInput) => [
  ...bends.map((bend) => ({ ...bend, place: bend.point === undefined ? {} : { point: bend.point } })),
  ...ends.flatMap(({ end, bend }) => (bend ? [{ ...bend, place: { end } }] : [])),
]

function bendItems(input: LossInput, bore: number, f: Friction, dynamic: number): LossItem[] {
  return everyBend(input).map(({ radius, angle, place }) => {
    const { atLeast, atMost, methods } = bendCoefficient(bore, radius, angle, f)
    return { what: 'bend', ...place, atLeast: atLeast * dynamic, atMost: atMost * dynamic, methods }
  })
}

function stepItems({ ends = [], forward = true }: LossInput, bore: number, dynamic: number): LossItem[] {
  return ends.flatMap(({ end, straight, portBore = bore }) => {
    const outOfPort = (end === 'from') === forward
    const step = outOfPort ? stepCoefficient(portBore, bore, straight) : stepCoefficient(bore, portBore, straight)
    if (!step) return []
    const narrow = dynamic * (bore / Math.min(bore, portBore)) ** 4
    return [
      { what: step.what, end, atLeast: step.atLeast * narrow, atMost: step.atMost * narrow, methods: step.methods },
    ]
  })
}

interface Flow extends Band {
  readonly bore: number
  readonly speed: number
  readonly reynolds: number
  readonly roughness: number
}

function notesOf(input: LossInput, { bore, speed, reynolds, roughness, atMost }: Flow): LossNote[] {
  const { gas } = input.fluid
  const bends = everyBend(input)
  const notes: LossNote[] = []
  if (reynolds < laminarTo) {
    if (bends.length > 0) notes.push({ code: 'flow-laminar-bends', expected: laminarTo, got: reynolds })
  } else if (reynolds < turbulentFrom) notes.push({ code: 'flow-between', expected: turbulentFrom, got: reynolds })
  else if (reynolds < bendReynolds && bends.length > 0)
    notes.push({ code: 'flow-below-bends', expected: bendReynolds, got: reynolds })
  for (const { radius, place } of bends)
    if (radius / bore < bendRatios.least || radius / bore > bendRatios.most)
      notes.push({ code: 'flow-bend-ratio', ...place, got: radius / bore })
  if (gas && speed / gas.soundSpeed > fastMach)
    notes.push({ code: 'flow-fast', expected: fastMach, got: speed / gas.soundSpeed })
  if (gas && atMost / gas.pressure > largestDrop)
    notes.push({ code: 'flow-density', expected: largestDrop, got: atMost / gas.pressure })
  if (roughness / bore > largestRoughness)
    notes.push({ code: 'flow-rough', expected: largestRoughness, got: roughness / bore })
  return notes
}

function refuse(input: LossInput): void {
  const { outsideDiameter, wall, developed, bends, ends = [], roughness = drawnRoughness, fluid, massFlow } = input
  const above: [string, number][] = [
    ['outsideDiameter', outsideDiameter],
    ['massFlow', massFlow],
    ['density', fluid.density],
    ['viscosity', fluid.viscosity],
    ...bends.map(({ radius }): [string, number] => ['bends.radius', radius]),
    ...ends.flatMap(({ portBore, bend }): [string, number][] => [
      ...(portBore === undefined ? [] : [['ends.portBore', portBore] as [string, number]]),
      ...(bend ? [['ends.bend.radius', bend.radius] as [string, number]] : []),
    ]),
  ]
  const notBelow: [string, number][] = [
    ['wall', wall],
    ['developed', developed],
    ['roughness', roughness],
    ...bends.map(({ angle }): [string, number] => ['bends.angle', angle]),
    ...ends.flatMap(({ straight, bend }): [string, number][] => [
      ['ends.straight', straight],
      ['ends.bend.angle', bend?.angle ?? 0],
    ]),
  ]
  const faults: Fault[] = [...above, ...notBelow].flatMap(([field, got], index): Fault[] => {
    if (!Number.isFinite(got)) return [{ code: 'not-finite', field, expected: 'a finite number', got: String(got) }]
    if (index < above.length && got <= 0) return [{ code: 'too-small', field, expected: 'more than 0', got }]
    return got < 0 ? [{ code: 'too-small', field, expected: 'at least 0', got }] : []
  })
  if (faults.length === 0 && !(outsideDiameter > 2 * wall))
    faults.push({ code: 'wall-too-thick', field: 'wall', expected: `less than ${outsideDiameter / 2}`, got: wall })
  if (faults.length > 0) throw new FaultError(faults)
}
