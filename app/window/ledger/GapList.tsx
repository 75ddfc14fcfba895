import { memo, useEffect, useMemo, useRef } from 'react'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { ListLayout, Virtualizer } from 'react-aria-components/Virtualizer'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { explanationId } from '../explain/Explained.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { type KeptLedger, select } from '../state/windowState.ts'
import { words } from '../words.ts'
import { type Bar, type BarScale, barOf, barScale } from './bar.ts'
import { pairText } from './copyText.ts'
import { allowances, askedGlance, gapGlance, gapShown } from './figures.ts'
import { pairNames } from './names.ts'
import { type Row, steadyRows } from './steadyRows.ts'
import { Mark } from './VerdictCounts.tsx'

/**
 * Every gap as a row, smallest margin first; only rows in sight are in the page. The list looks at nothing of the bay but
 * what its ledger is of: it may be a step behind what stands above it, and neither hand nor drawing need wait for it.
 */
export const GapList = memo(function GapList({ kept }: { kept: KeptLedger }) {
  const { room } = useHere()
  const { bay } = kept
  const { pairs } = kept.ledger
  const candidate = bay.candidates.find(({ id }) => id === kept.ledger.candidate) ?? null
  const units = useWindow((state) => state.units)
  const selected = useWindow((state) => state.selected)
  const { left, right } = barScale(pairs)
  // Another object would have every row drawn anew.
  const scale = useMemo(() => ({ left, right }), [left, right])
  const shown = useRef<readonly Row[]>([])
  const rows = useMemo(
    () => steadyRows(pairs, (pair) => pairNames(bay, candidate, pair), shown.current),
    [pairs, bay, candidate],
  )
  useEffect(() => {
    shown.current = rows
  }, [rows])
  const list = useRef<HTMLDivElement>(null)
  // The browser's own copying, with the chosen row's figures where no text is marked.
  useEffect(() => {
    const element = list.current
    const copy = (event: ClipboardEvent) => {
      const row = rows.find(({ id }) => id === selected)
      if (!row || getSelection()?.toString()) return
      event.clipboardData?.setData('text/plain', pairText(row.pair, row.other, row.part, units))
      event.preventDefault()
    }
    element?.addEventListener('copy', copy)
    return () => element?.removeEventListener('copy', copy)
  }, [rows, selected, units])
  return (
    <div ref={list} className="rows-inner">
      <Virtualizer layout={ListLayout} layoutOptions={{ rowHeight: 54 }}>
        <ListBox
          aria-label={words.ledger.list}
          aria-describedby={explanationId('row')}
          className="row-list"
          items={rows}
          dependencies={[units, scale]}
          selectionMode="single"
          selectionBehavior="replace"
          selectedKeys={selected === null ? [] : [selected]}
          onSelectionChange={(keys) => select(room.store, keys === 'all' ? null : (([...keys][0] as string) ?? null))}
          onAction={(key) => select(room.store, String(key))}
        >
          {(row) => <GapRow row={row} scale={scale} units={units} />}
        </ListBox>
      </Virtualizer>
    </div>
  )
})

function GapRow({ row, scale, units }: { row: Row; scale: BarScale; units: PeopleUnits }) {
  const { pair, other, part } = row
  const gap = gapGlance(gapShown(pair), units)
  const required = askedGlance(pair.required, units)
  const allowed = askedGlance(allowances(pair), units)
  const verdict = words.verdict[pair.verdict]
  return (
    <ListBoxItem
      id={row.id}
      className={`row verdict-${pair.verdict}`}
      data-explains="row"
      textValue={words.ledger.rowLabel(other, part, verdict.one, gap, required, allowed)}
    >
      <Mark verdict={pair.verdict} />
      <span className="row-line">
        <span className="row-names">
          {other} <span className="row-to">{words.ledger.to}</span> <span className="row-part">{part}</span>
          {pair.open && <span className="row-open"> · {words.ledger.open}</span>}
        </span>
        <span className="unseen">, {verdict.one}, </span>
        <span className="row-gap">{pair.overlap?.kind === 'atLeast' && pair.overlap.depth > 0 ? `≤ ${gap}` : gap}</span>
      </span>
      <span className="row-line">
        <GapBar bar={barOf(pair, scale)} />
        <span className="unseen"> </span>
        <span className="row-of">{words.ledger.of(required, allowed)}</span>
      </span>
    </ListBoxItem>
  )
}

const percent = (share: number): string => `${(100 * share).toFixed(2)}%`

/**
 * From zero: the gap that is there for certain, then hatched where it may end; a tick at the clearance asked for.
 * The row clears when the tick is left of the hatch, and is short when it is right of it.
 */
function GapBar({ bar }: { bar: Bar }) {
  return (
    <span className="bar" aria-hidden="true">
      <span className="bar-zero" style={{ left: percent(bar.zero) }} />
      {bar.overlap > 0 && (
        <span className="bar-overlap" style={{ left: percent(bar.zero - bar.overlap), width: percent(bar.overlap) }} />
      )}
      <span className="bar-solid" style={{ left: percent(bar.zero), width: percent(bar.solid - bar.zero) }} />
      <span
        className={`bar-open ${bar.cut ? 'bar-cut' : ''}`}
        style={{ left: percent(bar.from), width: percent(bar.to - bar.from) }}
      />
      <span className="bar-required" style={{ left: percent(bar.required) }} />
    </span>
  )
}
