import type { BayView, Entry } from './bayView.ts'
import type { Path } from './jsonText.ts'
import { unknownName } from './reference.ts'
import type { Candidate, Pipe } from './schema.ts'
import { sides } from './tankPort.ts'
import type { Trouble } from './trouble.ts'
import type { CouplerJoint } from './workshopSchema.ts'

/** What is wrong between the fields of a pipe, and between it and the ports, benders and stock of the bay. */
export function pipeTroubles(pipe: Pipe, candidate: Candidate, view: BayView, path: Path): Trouble[] {
  const troubles: Trouble[] = []
  const known = [...view.ids.ports.map((entry) => entry.item), ...tankPortNames(candidate)]
  for (const end of ['from', 'to'] as const)
    if (!view.unreadable.has('ports') && !known.includes(pipe[end]))
      troubles.push(unknownName('unknown-port', [...path, end], pipe[end], known, 'a port'))
  if (pipe.from === pipe.to)
    troubles.push({ code: 'same-port', path: [...path, 'to'], expected: 'another port than `from`', got: pipe.to })
  if (!(pipe.wall < pipe.outsideDiameter / 2))
    troubles.push({
      code: 'wall-too-thick',
      path: [...path, 'wall'],
      expected: `less than half the outside diameter, ${pipe.outsideDiameter / 2}`,
      got: pipe.wall,
    })
  const benders = view.ids.benders.map((entry) => entry.item)
  if (pipe.bender !== undefined && !view.unreadable.has('benders') && !benders.includes(pipe.bender))
    troubles.push(unknownName('unknown-bender', [...path, 'bender'], pipe.bender, benders, 'the id of a bender'))
  return [
    ...troubles,
    ...tubeTroubles(pipe, view, path),
    ...elbowTroubles(pipe, view, path),
    ...joints(pipe, view, path),
  ]
}

/** `tank-left:PORT`: how pipes name the ports of tanks. */
const tankPortNames = ({ tanks }: Candidate): string[] =>
  sides.flatMap((side) => (tanks?.[side]?.ports ?? []).map((port) => `tank-${side}:${port.id}`))

type StockName = 'tubes' | 'elbows' | 'couplers' | 'clamps'
const articles: Record<StockName, string> = {
  tubes: 'the id of a tube in stock',
  elbows: 'the id of an elbow in stock',
  couplers: 'the id of a coupler in stock',
  clamps: 'the id of a clamp in stock',
}

/** A reference to stock that is not there. */
function notInStock(list: StockName, id: string, view: BayView, path: Path): Trouble[] {
  const known = view.ids[list].map((entry) => entry.item)
  if (view.unreadable.has(list) || known.includes(id)) return []
  return [unknownName('unknown-stock', path, id, known, articles[list])]
}

const itemOf = <T extends { readonly id: string }>(list: readonly Entry<T>[], id: string | undefined): T | undefined =>
  list.find(({ item }) => item.id === id)?.item

function tubeTroubles(pipe: Pipe, view: BayView, path: Path): Trouble[] {
  if (pipe.tube === undefined) return []
  const tube = itemOf(view.tubes, pipe.tube)
  const differing = (['outsideDiameter', 'wall'] as const).flatMap((field): Trouble[] =>
    tube && tube[field] !== pipe[field]
      ? [
          {
            code: 'stock-differs',
            path: [...path, field],
            expected: `${tube[field]}, as tube ${tube.id} has`,
            got: pipe[field],
          },
        ]
      : [],
  )
  return [...notInStock('tubes', pipe.tube, view, [...path, 'tube']), ...differing]
}

function elbowTroubles(pipe: Pipe, view: BayView, path: Path): Trouble[] {
  const taken = new Set<number>()
  const last = pipe.path.length - 1
  return (pipe.elbows ?? []).flatMap(({ corner, elbow }, index): Trouble[] => {
    const at = [...path, 'elbows', index]
    const troubles = notInStock('elbows', elbow, view, [...at, 'elbow'])
    if (corner > last)
      troubles.push({
        code: 'no-such-corner',
        path: [...at, 'corner'],
        expected: last < 0 ? 'no elbow, since the path has no corners' : `at most ${last}, the last corner of the path`,
        got: corner,
      })
    if (taken.has(corner))
      troubles.push({
        code: 'duplicate-corner',
        path: [...at, 'corner'],
        expected: 'a corner of its own for each elbow',
        got: corner,
      })
    taken.add(corner)
    const stock = itemOf(view.elbows, elbow)
    if (stock && stock.outsideDiameter !== pipe.outsideDiameter)
      troubles.push({
        code: 'stock-differs',
        path: [...at, 'elbow'],
        expected: `an elbow of the pipe's outside diameter, ${pipe.outsideDiameter}`,
        got: stock.outsideDiameter,
      })
    return troubles
  })
}

function joints(pipe: Pipe, view: BayView, path: Path): Trouble[] {
  return (['from', 'to'] as const).flatMap((end) => {
    const joint = pipe.joints?.[end]
    return joint?.kind === 'coupler' ? jointTroubles(joint, view, [...path, 'joints', end]) : []
  })
}

/** Whether a joint holds is judged where pipes are; here only what leaves no joint at all. */
function jointTroubles(joint: CouplerJoint, view: BayView, path: Path): Trouble[] {
  const troubles = notInStock('couplers', joint.coupler, view, [...path, 'coupler'])
  for (const on of ['port', 'pipe'] as const) {
    const place = joint.clamps?.[on]
    if (place) troubles.push(...notInStock('clamps', place.clamp, view, [...path, 'clamps', on, 'clamp']))
  }
  const coupler = itemOf(view.couplers, joint.coupler)
  if (!coupler || joint.gap === undefined) return troubles
  const gap = { path: [...path, 'gap'], got: joint.gap }
  if (coupler.form === 'elbow')
    troubles.push({
      code: 'gap-in-elbow',
      expected: 'none: an elbow goes over port and pipe by its own insertion',
      ...gap,
    })
  else if (joint.gap >= coupler.length)
    troubles.push({ code: 'gap-over-length', expected: `less than the coupler's length, ${coupler.length}`, ...gap })
  return troubles
}
