import { type ClipboardEvent, type KeyboardEvent, useId, useRef, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault, Outcome } from '../../../core/fault.ts'
import { faultText } from '../../wording.ts'
import { useHere, useWindow } from '../state/context.ts'
import { type FieldPath, fieldAt, withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { FigureField } from './FigureField.tsx'
import { type FigureSpec, withoutPlace } from './figure.ts'
import { freshRow, pastedOver, type Rows, withoutRow, withRow } from './gridRows.ts'
import { isTable, pastedRows } from './pastedRows.ts'
import { PointsPaste } from './PointsPaste.tsx'
import { Together } from './Together.tsx'

export interface PointsGridProps {
  /** What is edited, for the names of steps: 'Left lamp'. */
  readonly of: string
  /** Of the list: 'Points'. */
  readonly title: string
  /** The list's place in the bay: rows of as many lengths as there are columns. */
  readonly path: FieldPath
  readonly columns: readonly string[]
  readonly least: number
  readonly most: number
  /** Where a new row starts; default between its neighbours, beyond the ends as far as the last step went. */
  readonly fresh?: (rows: Rows, index: number) => readonly number[]
  /** What entering a number does, where it changes more than itself. */
  readonly apply?: (bay: Bay, row: number, column: number, value: number) => Bay
}

/** Rows that are shown at once; longer lists are leafed through. */
const pageRows = 40
const noRows: Rows = []

/**
 * Rows of coordinates as in a spreadsheet: arrow keys from cell to cell, Enter downwards and at the end a new row, whole
 * blocks pasted. Each change is a step of its own; what would not make a solid is refused and said below.
 */
export function PointsGrid(props: PointsGridProps) {
  const { title, path, columns, least, most } = props
  const { room } = useHere()
  const rows = useWindow((state) => (fieldAt(bayOf(state), path) as Rows | undefined) ?? noRows)
  const units = useWindow((state) => state.units)
  const [fault, setFault] = useState<Fault | null>(null)
  const [from, setFrom] = useState(0)
  const list = useRef<HTMLFieldSetElement>(null)
  const keysId = useId()
  const text = words.measure.grid
  const first = Math.min(from, Math.max(0, rows.length - 1))
  const specsOf = (row: number): readonly FigureSpec[] =>
    columns.map((label, k) => ({
      of: `${props.of}, ${text.row(title, row + 1)}`,
      label,
      path: [...path, row, k],
      quantity: 'length',
      ...(props.apply && { apply: (bay, value) => props.apply?.(bay, row, k, value) ?? bay }),
    }))
  const shown = rows.slice(first, first + pageRows)

  const lay = (next: Rows, label: string): boolean => {
    const refusal: Fault | null =
      next.length < least
        ? { code: 'too-few', expected: text.fewest(least), got: next.length }
        : next.length > most
          ? { code: 'too-many', expected: text.most(most), got: next.length }
          : null
    const done: Outcome<null> = refusal
      ? { ok: false, faults: [refusal] }
      : doEdit(room.store, {
          name: 'rows',
          label: `${props.of}, ${label}`,
          undo: 'step',
          apply: (bay) => withField(bay, path, next),
        })
    setFault(done.ok ? null : done.faults[0])
    return done.ok
  }
  /** A cell, once it is there; its page is turned to. */
  const focus = (row: number, column: number) => {
    const at = Math.max(0, row)
    if (at < first || at >= first + pageRows) setFrom(Math.floor(at / pageRows) * pageRows)
    requestAnimationFrame(() => {
      const line = list.current?.querySelector(`[data-row="${at}"]`)
      const cell = line?.querySelectorAll('input')[column]
      if (cell) cell.focus()
      else list.current?.querySelector('button')?.focus()
    })
  }
  const add = (index: number, column = 0) => {
    const row = (props.fresh ?? freshRow)(rows, index).slice(0, columns.length)
    if (lay(withRow(rows, index, row), text.added(title, index + 1))) focus(index, column)
  }
  const remove = (index: number, column = 0) => {
    if (lay(withoutRow(rows, index), text.removed(title, index + 1))) focus(Math.min(index, rows.length - 2), column)
  }
  const paste = (event: ClipboardEvent, row: number, column: number) => {
    const pasted = event.clipboardData.getData('text/plain')
    if (!isTable(pasted)) return
    event.preventDefault()
    const block = pastedRows(pasted, columns.length - column, units)
    if (!block.ok) return setFault(block.faults[0])
    const next = pastedOver(rows, { row, column }, block.value, columns.length)
    if (!next) return setFault({ code: 'wrong-count', expected: text.unfit })
    if (lay(next, text.pasted(title, block.value.length))) focus(row, column)
  }
  const onKey = (event: KeyboardEvent<HTMLDivElement>, row: number) => {
    const input = event.target as HTMLInputElement
    const column = [...event.currentTarget.querySelectorAll('input')].indexOf(input)
    if (column < 0) return
    if (event.key === 'Enter') {
      // The field takes what was typed first; only where it could, the next one is gone to.
      if (event.ctrlKey) return
      requestAnimationFrame(() => {
        if (input.getAttribute('aria-invalid') === 'true') return
        if (row + 1 < rows.length) focus(row + 1, column)
        else add(rows.length, 0)
      })
      return
    }
    const plain = !event.shiftKey && !event.altKey && !event.ctrlKey && !event.metaKey
    const go = plain ? wayOf(event.key, input) : null
    if (go) focus(Math.min(row + go[0], rows.length - 1), Math.min(Math.max(column + go[1], 0), columns.length - 1))
    else if (event.key === 'Insert' && plain) add(row + 1, column)
    else if (event.key === 'Delete' && event.ctrlKey) remove(row, column)
    else return
    event.preventDefault()
    event.stopPropagation()
  }

  return (
    <fieldset ref={list} className="points" aria-describedby={keysId}>
      <legend>{title}</legend>
      <div className="points-row points-head" style={columnsStyle(columns)} aria-hidden="true">
        <span />
        {columns.map((column) => (
          <span key={column}>{column}</span>
        ))}
      </div>
      {shown.map((_, k) => {
        const row = first + k
        return (
          <div
            // Points have no name but their number.
            key={row}
            className="points-row"
            style={columnsStyle(columns)}
            data-row={row}
            onKeyDownCapture={(event) => onKey(event, row)}
          >
            <span className="points-number">{row + 1}</span>
            <Together specs={specsOf(row)}>
              {specsOf(row).map((spec, k) => (
                <span key={spec.label} className="points-cell" onPasteCapture={(event) => paste(event, row, k)}>
                  <FigureField compact spec={spec} />
                </span>
              ))}
            </Together>
            <Button
              className="small"
              excludeFromTabOrder
              aria-label={text.addAfter(row + 1)}
              onPress={() => add(row + 1)}
            >
              +
            </Button>
            <Button className="small" excludeFromTabOrder aria-label={text.remove(row + 1)} onPress={() => remove(row)}>
              −
            </Button>
          </div>
        )
      })}
      {rows.length > pageRows && (
        <p className="points-pages">
          <Button
            className="small"
            aria-label={text.earlier}
            isDisabled={first === 0}
            onPress={() => setFrom(Math.max(0, first - pageRows))}
          >
            ▲
          </Button>
          {text.range(first + 1, Math.min(first + pageRows, rows.length), rows.length)}
          <Button
            className="small"
            aria-label={text.later}
            isDisabled={first + pageRows >= rows.length}
            onPress={() => setFrom(first + pageRows)}
          >
            ▼
          </Button>
        </p>
      )}
      {fault && (
        <p className="figure-fault" role="alert">
          {faultText(withoutPlace(fault))}
        </p>
      )}
      <div className="points-tools">
        <Button className="small" onPress={() => add(rows.length)}>
          {text.addLast}
        </Button>
        <PointsPaste
          columns={columns}
          onTry={() => setFault(null)}
          onRows={(next) => lay(next, text.pasted(title, next.length))}
        />
      </div>
      <p id={keysId} className="unseen">
        {text.keys}
      </p>
    </fieldset>
  )
}

const columnsStyle = (columns: readonly string[]) => ({
  gridTemplateColumns: `18px repeat(${columns.length}, minmax(0, 1fr)) 20px 20px`,
})

/** Rows and columns that an arrow key goes; sideways only where the cursor cannot go on inside the number. */
function wayOf(key: string, input: HTMLInputElement): readonly [number, number] | null {
  const { selectionStart, selectionEnd, value } = input
  const whole = selectionStart === 0 && selectionEnd === value.length
  switch (key) {
    case 'ArrowUp':
      return [-1, 0]
    case 'ArrowDown':
      return [1, 0]
    case 'ArrowLeft':
      return whole || selectionEnd === 0 ? [0, -1] : null
    case 'ArrowRight':
      return whole || selectionStart === value.length ? [0, 1] : null
    default:
      return null
  }
}
