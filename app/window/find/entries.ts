import type { Fault } from '../../../core/fault.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { faultText } from '../../wording.ts'
import { reasonText } from '../../wording/reasonWords.ts'
import { commands } from '../commands/list.ts'
import { litresText } from '../editors/litres.ts'
import { gapFull } from '../ledger/figures.ts'
import { pairNames, partName } from '../ledger/names.ts'
import { lookAt } from '../pipes/lookAt.ts'
import type { Here } from '../state/context.ts'
import { openPart } from '../state/openPart.ts'
import { bendFaults, hasStage, pipesIn, shownBends } from '../state/pipes.ts'
import { seatFaults, wayFaults } from '../state/seat.ts'
import { pairKey } from '../state/pairs.ts'
import {
  bayOf,
  candidateIn,
  type Stage,
  select,
  shownLedger,
  troublesNow,
  type WindowState,
} from '../state/windowState.ts'
import { words } from '../words.ts'
import { fixedEntries, measuredEntries, stepEntries, stockEntries } from './bayEntries.ts'
import type { Entry } from './entry.ts'
import { lookAtSolid } from './lookAtSolid.ts'

const stages: readonly Stage[] = ['measure', 'core', 'gaps', 'pipes', 'seat', 'sheets']

/** All that can be found in a window as it is now: commands first, then the bay from its stages to its faults. */
export function entriesIn(here: Here): Entry[] {
  const state = here.room.store.getState()
  return [
    ...commandEntries(here),
    ...stageEntries(state),
    ...candidateEntries(state),
    ...keepOutEntries(state),
    ...partEntries(here),
    ...pipeEntries(state),
    ...measuredEntries(state),
    ...fixedEntries(state),
    ...gapEntries(state),
    ...faultEntries(state),
    ...stockEntries(state),
    ...stepEntries(state),
  ]
}

function commandEntries(here: Here): Entry[] {
  const { off, kind, also } = words.find
  const why = (name: string): string => {
    if (name === 'undo' || name === 'redo' || name === 'compare') return off[name]
    if (!bayOf(here.room.store.getState())) return off.bay
    if (!name.startsWith('sheets')) return off.otherwise
    return candidateIn(here.room.store.getState()) ? words.sheets.off : words.sheets.noCandidate
  }
  return commands
    .filter(({ name }) => name !== 'find')
    .map(({ name, label, keys, enabled, perform }) => ({
      id: `command ${name}`,
      kind: 'command',
      label,
      detail: kind.command,
      also: also[name],
      key: keys[0],
      ...(enabled && !enabled(here) && { off: why(name) }),
      perform,
    }))
}

function stageEntries(state: WindowState): Entry[] {
  if (!bayOf(state)) return []
  return stages
    .filter((stage) => hasStage(state, stage))
    .map((stage) => ({
      id: `stage ${stage}`,
      kind: 'stage',
      label: words.stage[stage],
      detail: `${words.find.kind.stage}, ${words.find.stageDetail}`,
      perform: ({ room }) => room.store.setState({ stage }),
    }))
}

const candidateEntries = (state: WindowState): Entry[] =>
  (bayOf(state)?.candidates ?? []).map(({ id, name, core }) => ({
    id: `candidate ${id}`,
    kind: 'candidate',
    label: name,
    detail: `${words.find.kind.candidate}, ${words.find.candidateDetail(litresText(core), id === state.candidate)}`,
    perform: ({ room }) => room.store.setState({ candidate: id, selected: null, stopped: false }),
  }))

const keepOutEntries = (state: WindowState): Entry[] =>
  (bayOf(state)?.keepOuts ?? []).map(({ id, name, role, shape }) => ({
    id: `keepOut ${id}`,
    kind: 'keepOut',
    label: name,
    detail: `${words.find.kind.keepOut}, ${words.role[role]}, ${words.keepOut.kind[shape.kind]}`,
    perform: (here) => {
      here.room.store.setState({ stage: 'measure', openItem: { side: 'keepOut', key: id } })
      lookAtSolid(here, 'keepOut', id)
    },
  }))

/** Pipes are listed by themselves. */
function partEntries({ room }: Here): Entry[] {
  const candidate = candidateIn(room.store.getState())
  return room.scene
    .getState()
    .parts.filter(({ key }) => !key.startsWith('pipe-'))
    .map(({ key }) => ({
      id: `part ${key}`,
      kind: 'part',
      label: sentenceCase(partName(candidate, key)),
      detail: `${words.find.kind.part}, ${candidate?.name ?? ''}`,
      perform: (here) => {
        openPart(here.room, key)
        lookAtSolid(here, 'part', key)
      },
    }))
}

const pipeEntries = (state: WindowState): Entry[] =>
  pipesIn(state).map(({ id, name, from, to }) => ({
    id: `pipe ${id}`,
    kind: 'pipe',
    // Together with its kind: else every gap of the pipe would stand before it.
    label: words.part.pipeTitle(name),
    detail: `${words.find.kind.pipe}, ${words.field.fromTo(from, to)}`,
    perform: (here) => {
      openPipe(here, id, null)
      lookAt(here, id)
    },
  }))

function openPipe({ room }: Here, pipe: string, reason: number | null): void {
  room.store.setState({ stage: 'pipes', pipe, reason, corner: null, openItem: null })
}

function gapEntries(state: WindowState): Entry[] {
  const [bay, candidate] = [bayOf(state), candidateIn(state)]
  return (shownLedger(state)?.ledger.pairs ?? []).map((pair: LedgerPair) => {
    const { other, part } = pairNames(bay, candidate, pair)
    const { find, verdict } = words
    return {
      id: `gap ${pairKey(pair)}`,
      kind: 'gap',
      label: sentenceCase(find.gapOf(other, part)),
      detail: `${find.kind.gap}, ${find.gapDetail(verdict[pair.verdict].one, gapFull(pair.margin, state.units))}`,
      perform: ({ room }) => {
        // Beside a narrow window's other stages the ledger shows its head only.
        room.store.setState({ stage: 'gaps', openItem: null })
        select(room.store, pairKey(pair))
      },
    }
  })
}

function faultEntries(state: WindowState): Entry[] {
  const of = (faults: readonly Fault[], stage: Stage): Entry[] =>
    faults.map((fault) => faultEntry(faultText(fault), stage, (here) => toFault(here, fault, stage)))
  const remarks = (shownBends(state)?.pipes ?? []).flatMap(({ id, name, reasons }) =>
    reasons.map((reason, i) =>
      faultEntry(`${name}: ${reasonText(reason, state.units)}`, 'pipes', (here) => {
        openPipe(here, id, i)
        lookAt(here, id)
      }),
    ),
  )
  const seat = [...seatFaults(state), ...wayFaults(state)]
  const all = [...of(troublesNow(state), 'core'), ...of(bendFaults(state), 'pipes'), ...remarks, ...of(seat, 'seat')]
  // One thing that is wrong may be told by several of those who ask.
  return [...new Map(all.map((entry) => [entry.label, entry])).values()]
}

const faultEntry = (label: string, stage: Stage, perform: Entry['perform']): Entry => ({
  id: `fault ${stage} ${label}`,
  kind: 'fault',
  label,
  detail: `${words.find.kind.fault}, ${words.stage[stage]}`,
  perform,
})

/** To the item that the fault names where it is one that has an editor, else to the stage that it is about. */
function toFault({ room }: Here, { item }: Fault, stage: Stage): void {
  const state = room.store.getState()
  if (bayOf(state)?.keepOuts.some(({ id }) => id === item))
    room.store.setState({ stage: 'measure', openItem: { side: 'keepOut', key: item as string } })
  else room.store.setState({ stage })
}

const sentenceCase = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
