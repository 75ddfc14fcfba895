import { Cell, Column as HeadCell, Row, Table, TableBody, TableHeader } from 'react-aria-components/Table'
import { Explained } from '../explain/Explained.tsx'
import { Mark } from '../ledger/VerdictCounts.tsx'
import { useWindow } from '../state/context.ts'
import { words } from '../words.ts'
import type { CellText, Column, CompareRow } from './rows.ts'

const { compare: text } = words

/** The table itself: rows that differ have a mark and bold letters, the best of a row a star; both are said as words too. */
export function CompareTable({ columns, rows }: { columns: readonly Column[]; rows: readonly CompareRow[] }) {
  const shown = useWindow((state) => state.candidate)
  return (
    <Table className="compare-table" aria-label={text.table}>
      <TableHeader>
        <HeadCell id="figure" isRowHeader>
          <Explained name="compared">{text.figure}</Explained>
        </HeadCell>
        {columns.map(({ candidate }) => (
          <HeadCell key={candidate.id} id={candidate.id}>
            {candidate.name}
            {candidate.id === shown && <span className="compare-shown"> ({text.shown})</span>}
          </HeadCell>
        ))}
      </TableHeader>
      <TableBody>
        {rows.map((row, i) => (
          <Row
            key={row.id}
            id={row.id}
            className={`compare-row ${row.differs ? 'compare-differs' : ''} ${rows[i - 1]?.group === row.group ? '' : 'compare-first'}`}
          >
            <Cell>
              <span className="compare-mark" aria-hidden="true">
                {row.differs ? text.differsMark : ''}
              </span>
              {row.label}
              {row.differs && <span className="unseen">, {text.differs}</span>}
            </Cell>
            {row.cells.map((cell, at) => (
              <Cell key={columns[at].candidate.id}>
                <Figure cell={cell} best={row.best[at]} />
              </Cell>
            ))}
          </Row>
        ))}
      </TableBody>
    </Table>
  )
}

function Figure({ cell, best }: { cell: CellText; best: boolean }) {
  return (
    <span className={`${best ? 'compare-best' : ''} ${cell.verdict ? `verdict-${cell.verdict}` : ''}`}>
      {cell.verdict && (
        <>
          <Mark verdict={cell.verdict} />{' '}
        </>
      )}
      {cell.text}
      {best && (
        <>
          <span aria-hidden="true"> {text.bestMark}</span>
          <span className="unseen">, {text.best}</span>
        </>
      )}
    </span>
  )
}
