import type { Bay, Candidate, Pipe } from '../../../core/bay/schema.ts'
import type {
  Bender,
  BenderTool,
  Clamp,
  Coupler,
  Joint,
  StockElbow,
  StockTube,
} from '../../../core/bay/workshopSchema.ts'
import { candidateWords as text } from '../candidateWords.ts'
import type { Added } from './candidateEdits.ts'
import { freshName, idFrom } from './freshNames.ts'
import { type AlsoGone, orNone, type Removal, withFields } from './removal.ts'

export type StockList = 'tubes' | 'elbows' | 'couplers' | 'clamps' | 'benders'
export type CouplerForm = Coupler['form']
type StockItem = StockTube | StockElbow | Coupler | Clamp | Bender

/** The diameter that the bay works with, mm: of its tubes, else of its ports. Common practice where there is neither, no source. */
export const diameterIn = ({ stock, ports, benders }: Bay): number =>
  stock?.tubes?.[0]?.outsideDiameter ?? ports?.[0]?.outsideDiameter ?? benders?.[0]?.tools[0].outsideDiameter ?? 57

export function stockItems(bay: Bay, list: StockList): readonly StockItem[] {
  return (list === 'benders' ? bay.benders : bay.stock?.[list]) ?? []
}

function withItems(bay: Bay, list: StockList, items: readonly StockItem[]): Bay {
  const kept = orNone(items)
  if (list === 'benders') return withFields(bay, { benders: kept as Bender[] | undefined })
  const stock = withFields(bay.stock ?? {}, { [list]: kept })
  return withFields(bay, { stock: Object.keys(stock).length > 0 ? stock : undefined })
}

/** Something to have in the shop, of the bay's diameter and of sizes that are common practice (no source). */
export function addStock(bay: Bay, list: StockList, form: CouplerForm = 'straight'): Added {
  const items = stockItems(bay, list)
  const name = freshName(
    items.map((each) => each.name),
    (n) => text.stock.fresh(list, n),
  )
  const id = idFrom(
    name,
    items.map((each) => each.id),
    'item',
  )
  return { bay: withItems(bay, list, [...items, freshItem(bay, list, { id, name }, form)]), id }
}

type Named = { readonly id: string; readonly name: string }

function freshItem(bay: Bay, list: StockList, named: Named, form: CouplerForm): StockItem {
  const d = diameterIn(bay)
  const wall = Math.min(1.5, d / 8)
  const material = bay.stock?.tubes?.[0]?.material ?? text.stock.firstMaterial
  switch (list) {
    case 'tubes':
      return { ...named, outsideDiameter: d, wall, material }
    case 'elbows':
      return { ...named, outsideDiameter: d, wall, material, angle: 90, radius: d, legs: [20, 20] }
    case 'couplers':
      return freshCoupler(named, d, form)
    case 'clamps':
      return { ...named, least: d, most: d + 20, band: 12, height: 12 }
    case 'benders':
      return { ...named, tools: [freshTool(d)] }
  }
}

/** A hose of silicone with fabric, as long as such are. */
function freshCoupler(named: Named, d: number, form: CouplerForm): Coupler {
  const wall = Math.min(5, d / 8)
  const common = { ...named, insideDiameters: [d, d] as [number, number], wall, insertion: 30 }
  const takes = { largestAngle: 4, largestOffset: 3, largestGap: 12 }
  if (form === 'elbow') return { form, ...common, ...takes, angle: 90, radius: d, legs: [45, 45] }
  if (form === 'hump')
    return { form, ...common, ...takes, length: 90, hump: { diameter: d + 2 * wall + 14, length: 22 } }
  return { form, ...common, ...takes, length: 80 }
}

/** Dies of one and one and a half diameters; the clamp holds less than a diameter. */
export const freshTool = (d: number): BenderTool => ({
  outsideDiameter: d,
  radii: [d, 1.5 * d],
  grip: Math.round(0.8 * d),
  leastStraight: Math.round(0.8 * d),
  leastEnd: Math.round(0.6 * d),
  largestAngle: 180,
})

/** The same again under another name. */
export function copyStock(bay: Bay, list: StockList, index: number): Added {
  const items = stockItems(bay, list)
  const from = items[index]
  const name = freshName(
    items.map((each) => each.name),
    (n) => text.candidate.copyName(from.name, n),
  )
  const id = idFrom(
    name,
    items.map((each) => each.id),
    'item',
  )
  return {
    bay: withItems(bay, list, [...items.slice(0, index + 1), { ...from, id, name }, ...items.slice(index + 1)]),
    id,
  }
}

/** Another form of coupler with the sizes that both have. */
export function setCouplerForm(bay: Bay, index: number, form: CouplerForm): Bay {
  const before = bay.stock?.couplers?.[index]
  if (!before || before.form === form) return bay
  const { id, name, insideDiameters, wall, insertion, largestAngle, largestOffset, largestGap, tolerance } = before
  const widest = Math.max(...insideDiameters)
  const fresh = freshCoupler({ id, name }, widest, form)
  const kept = withFields({ ...fresh, insideDiameters, wall, largestAngle, largestOffset, largestGap }, { tolerance })
  const deep = { ...kept, insertion: Math.min(insertion, 40) } as Coupler
  const couplers = (bay.stock?.couplers ?? []).map((each, i) => (i === index ? fitted(deep, widest) : each))
  return withItems(withoutGaps(bay, id, deep), 'couplers', couplers)
}

/** Hump and elbow no thinner than their own hose. */
function fitted(coupler: Coupler, widest: number): Coupler {
  const outside = widest + 2 * coupler.wall
  if (coupler.form === 'hump')
    return { ...coupler, hump: { ...coupler.hump, diameter: Math.max(coupler.hump.diameter, outside) } }
  return coupler.form === 'elbow' ? { ...coupler, radius: Math.max(coupler.radius, outside / 2) } : coupler
}

/** Joints that name this coupler, without a gap that it does not take. */
function withoutGaps(bay: Bay, coupler: string, next: Coupler): Bay {
  return withJoints(bay, (joint) => {
    if (joint.kind !== 'coupler' || joint.coupler !== coupler || joint.gap === undefined) return joint
    return next.form === 'elbow' || joint.gap >= next.length ? withFields(joint, { gap: undefined }) : joint
  })
}

type Where = { readonly pipe: Pipe; readonly candidate: Candidate }

function withPipes(bay: Bay, change: (where: Where) => Pipe): Bay {
  const candidates = bay.candidates.map((candidate) => {
    if (!candidate.pipes) return candidate
    const pipes = candidate.pipes.map((pipe) => change({ pipe, candidate }))
    return pipes.some((pipe, i) => pipe !== candidate.pipes?.[i]) ? { ...candidate, pipes } : candidate
  })
  return { ...bay, candidates }
}

function withJoints(bay: Bay, change: (joint: Joint, where: Where) => Joint | undefined): Bay {
  return withPipes(bay, (where) => {
    const { pipe } = where
    if (!pipe.joints) return pipe
    const [from, to] = [pipe.joints.from, pipe.joints.to].map((joint) => joint && change(joint, where))
    if (from === pipe.joints.from && to === pipe.joints.to) return pipe
    return withFields(pipe, { joints: from || to ? withFields({}, { from, to }) : undefined })
  })
}

/**
 * Without a thing of the shop. Pipes that name it keep their sizes: they no longer name their tube or bender, corners are
 * bent that an elbow made, joints lose their coupler or clamp.
 */
export function removeStock(bay: Bay, list: StockList, index: number): Removal {
  const { id } = stockItems(bay, list)[index]
  const also: AlsoGone[] = []
  const several = bay.candidates.length > 1
  const tell = (kind: AlsoGone['kind'], { pipe, candidate }: Where) =>
    also.push({ kind, name: pipe.name, ...(several && { of: candidate.name }) })
  const without = withItems(
    bay,
    list,
    stockItems(bay, list).filter((_, i) => i !== index),
  )
  return { bay: freed(without, list, id, tell), also }
}

function freed(bay: Bay, list: StockList, id: string, tell: (kind: AlsoGone['kind'], where: Where) => void): Bay {
  switch (list) {
    case 'tubes':
    case 'benders': {
      const field = list === 'tubes' ? 'tube' : 'bender'
      return withPipes(bay, (where) => {
        if (where.pipe[field] !== id) return where.pipe
        tell(field, where)
        return withFields(where.pipe, { [field]: undefined })
      })
    }
    case 'elbows':
      return withPipes(bay, (where) => {
        const { elbows } = where.pipe
        const left = elbows?.filter(({ elbow }) => elbow !== id)
        if (!elbows || left?.length === elbows.length) return where.pipe
        tell('elbow', where)
        return withFields(where.pipe, { elbows: orNone(left ?? []) })
      })
    case 'couplers':
      return withJoints(bay, (joint, where) => {
        if (joint.kind !== 'coupler' || joint.coupler !== id) return joint
        tell('joint', where)
        return undefined
      })
    case 'clamps':
      return withJoints(bay, (joint, where) => {
        if (joint.kind !== 'coupler' || !joint.clamps) return joint
        const { port, pipe } = joint.clamps
        const kept = { port: port?.clamp === id ? undefined : port, pipe: pipe?.clamp === id ? undefined : pipe }
        if (kept.port === port && kept.pipe === pipe) return joint
        tell('clamp', where)
        return withFields(joint, { clamps: kept.port || kept.pipe ? withFields({}, kept) : undefined })
      })
  }
}

/** A size of a stock tube, and of the pipes that are bent from it. */
export function setTubeSize(bay: Bay, index: number, field: 'outsideDiameter' | 'wall', mm: number): Bay {
  const tube = bay.stock?.tubes?.[index]
  if (!tube || tube[field] === mm) return bay
  const tubes = bay.stock?.tubes?.map((each, i) => (i === index ? { ...each, [field]: mm } : each))
  const resized = withPipes(bay, ({ pipe }) => (pipe.tube === tube.id ? { ...pipe, [field]: mm } : pipe))
  return { ...resized, stock: { ...bay.stock, tubes } }
}
