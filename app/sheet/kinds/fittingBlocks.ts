import type { JointJudged, MountJudged } from '../../../core/seat/mountsJudged.ts'
import { formatLength, type PeopleUnits } from '../../../core/units/lengthText.ts'
import { jointSentences } from '../../wording/mountWords.ts'
import { keepOutName, partName } from '../../wording/partNames.ts'
import { listed } from '../../wording/plainWords.ts'
import type { SheetContext } from '../context.ts'
import type { Block, Cell, Table } from '../sheet.ts'
import { littleCell, textCell, unitText } from './cells.ts'
import { comesOff, wayVerdict } from './wayText.ts'

/** Mounts and fasteners: what goes where, with what room, in which order, and whether tools reach. */
export function fittingBlocks(context: SheetContext): Block[] {
  const { mounts } = context.facts.mounts
  if (mounts.length === 0)
    return [
      { kind: 'heading', level: 2, text: 'Mounts' },
      { kind: 'text', text: 'The candidate has no mounts in the bay: how it is held is not given.' },
    ]
  return [
    { kind: 'heading', level: 2, text: 'Mounts and fasteners' },
    { kind: 'table', table: mountTable(context, mounts) },
    {
      kind: 'text',
      tone: 'small',
      text: 'Room: what is left with every tolerance and uncertainty against it. Tool: whether the one that the bay names gets to the fastener.',
    },
    ...troubleBlocks(context, mounts),
    { kind: 'heading', level: 2, text: 'Order' },
    { kind: 'list', numbered: true, items: orderOf(context, mounts) },
    { kind: 'text', tone: 'small', text: 'Order by common practice, no source: the hole with the least room first.' },
  ]
}

const fixingOf = ({ facts: { bay } }: SheetContext, id: string) => bay.fixings?.find((fixing) => fixing.id === id)
const fixingName = (context: SheetContext, id: string): string => fixingOf(context, id)?.name ?? id

/** `bolt ⌀6 with nut`, `nut on stud ⌀8`, `bolt ⌀6 in thread`, `pin ⌀9.5` */
function fastenerText(context: SheetContext, { fixing, hole, fastener }: JointJudged): string {
  const size = `⌀${sizeText(fastener, context.units)}`
  if (hole === null) return `pin ${size}`
  const kind = fixingOf(context, fixing)?.kind
  if (kind === 'stud') return `nut on stud ${size}`
  return kind === 'thread' ? `bolt ${size} in thread` : `bolt ${size} with nut`
}

const sizeText = (mm: number, units: PeopleUnits): string =>
  units === 'mm' ? String(Number(mm.toFixed(2))) : formatLength(mm, units, { fraction: 64 })

const fittingWords = { 'with-part': 'with the part', after: 'after' } as const

function mountTable(context: SheetContext, mounts: readonly MountJudged[]): Table {
  const { units, facts } = context
  const unit = unitText(units)
  return {
    id: 'mounts',
    columns: [
      { id: 'mount', head: 'Mount', quantity: 'text', wide: 1.4 },
      { id: 'on', head: 'On', quantity: 'text', wide: 0.8 },
      { id: 'goes-on', head: 'Goes on', quantity: 'text', wide: 0.8 },
      { id: 'fixing', head: 'At', quantity: 'text', wide: 1.8 },
      { id: 'fastener', head: 'Fastener', quantity: 'text', wide: 1.2 },
      { id: 'spare', head: `Room, ${unit}`, quantity: 'length', align: 'right', wide: 0 },
      { id: 'answer', head: 'Answer', quantity: 'text', wide: 1 },
      { id: 'tool', head: 'Tool', quantity: 'text', wide: 0.8 },
    ],
    rows: mounts.flatMap(({ name, on, fitting, joints }) =>
      joints.map((joint): Cell[] => [
        textCell(name),
        textCell(partName(facts.candidate, on)),
        textCell(fittingWords[fitting]),
        textCell(fixingName(context, joint.fixing)),
        textCell(fastenerText(context, joint)),
        littleCell(joint.spare.worstCase, units),
        textCell(joint.verdict),
        textCell(joint.reach ? (joint.reach.clear ? 'reaches' : 'does not reach') : 'not named'),
      ]),
    ),
  }
}

function troubleBlocks(context: SheetContext, mounts: readonly MountJudged[]): Block[] {
  const { units, facts } = context
  const { bay, candidate } = facts
  const obstacle = (name: string) => {
    const called = keepOutName(bay, name)
    return called === name ? partName(candidate, name) : called
  }
  const names = { fixing: (id: string) => fixingName(context, id), obstacle }
  const items = mounts.flatMap(({ name, joints }) =>
    joints
      .filter(({ verdict, reach }) => verdict !== 'goes on' || reach?.clear === false)
      .map((joint) => `${name}: ${jointSentences(joint, names, units).join(' ')}`),
  )
  return items.length > 0 ? [{ kind: 'list', items }] : []
}

function orderOf(context: SheetContext, mounts: readonly MountJudged[]): string[] {
  const { facts } = context
  const { bay, candidate } = facts
  const off = comesOff(facts)
  const told = (when: MountJudged['fitting'], pin: boolean) =>
    mounts
      .filter(({ fitting }) => fitting === when)
      .flatMap(({ name, joints }) => joints.map((joint) => ({ name, joint })))
      .filter(({ joint }) => (joint.hole === null) === pin)
      .sort((a, b) => a.joint.spare.worstCase - b.joint.spare.worstCase)
      .map(({ name, joint }) => `${name} at ${fixingName(context, joint.fixing)} (${fastenerText(context, joint)})`)
  const [first, after] = [told('with-part', false), told('after', false)]
  const pins = [...told('with-part', true), ...told('after', true)]
  const pipes = (candidate.pipes ?? []).filter(({ fitting }) => fitting !== 'with-part').map(({ name }) => name)
  return [
    ...(off.length > 0 ? [`Take off: ${listed(off.map((id) => keepOutName(bay, id)))}.`] : []),
    wayVerdict(facts, context.units).proved
      ? 'Offer the part up by the moves above, and hold it there.'
      : 'Offer the part up: no way in is proved, see above; nothing here says that it goes in.',
    ...(pins.length > 0 ? [`See that these are in their holes: ${listed(pins)}.`] : []),
    ...(first.length > 0 ? [`Start by hand, none tight yet: ${listed(first)}.`] : []),
    ...(after.length > 0 ? [`Put on now and start by hand: ${listed(after)}.`] : []),
    'Push the part to the middle of the play in its holes and check the gaps (sheet Check on the car).',
    'Tighten the fasteners in the same order; torque as the fastener’s maker says: not given in the bay.',
    ...(pipes.length > 0 ? [`Fit the pipes: ${listed(pipes)}; couplers and clamps as on their sheets.`] : []),
    ...(off.length > 0 ? [`Refit: ${listed(off.map((id) => keepOutName(bay, id)))}, and check the gaps to them.`] : []),
  ]
}
