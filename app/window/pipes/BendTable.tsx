import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import type { Bay, Pipe } from '../../../core/bay/schema.ts'
import type { PipeBends } from '../../../core/pipe/answer.ts'
import { Explained } from '../explain/Explained.tsx'
import type { Explains } from '../explainWords.ts'
import { useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { dOfBend, lengthOf, sizeOf } from './figures.ts'
import { Straights } from './Straights.tsx'
import { type TableRow, tableRows, tableText } from './tableRows.ts'

const { pipes: text } = words
const { table } = text
const columns = ['length', 'rotation', 'angle', 'radius', 'set'] as const
const explains: Record<(typeof columns)[number], Explains> = {
  length: 'bendLength',
  rotation: 'bendRotation',
  angle: 'bendAngle',
  radius: 'bendRadius',
  set: 'bendSet',
}

/** The table to bend it by, with what is cut, and the straights between. */
export function BendTable({ bends, pipe }: { bends: PipeBends; pipe: Pipe }) {
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  const bender = bay?.benders?.find(({ id }) => id === pipe.bender) ?? bay?.benders?.[0]
  const rows = tableRows(bends, units)
  const isBent = rows.some(({ angle }) => angle !== null)
  const hasSet = rows.some(({ set }) => set !== null)
  if (rows.length === 0) return <p className="pipe-none">{table.notRounded}</p>
  return (
    <section className="bend-table" aria-label={table.title}>
      <header className="pipe-part-head">
        <h3>{table.title}</h3>
        <CopyTable text={() => tableText(rows)} />
      </header>
      {isBent ? <Rows rows={rows} bay={bay} /> : <p className="pipe-none">{table.straightOnly}</p>}
      <Figures bends={bends} />
      {isBent && (
        <p className="pipe-small">
          {table.rotationOf[bender?.rotation ?? 'right-hand']}{' '}
          {hasSet ? table.setKnown : bends.tubes.length > 0 && table.setNone}
        </p>
      )}
      <Straights bends={bends} pipe={pipe} units={units} />
    </section>
  )
}

function Rows({ rows, bay }: { rows: readonly TableRow[]; bay: Bay | null }) {
  return (
    <table aria-label={table.title}>
      <thead>
        <tr>
          <th scope="col">
            <span className="unseen">{table.bend}</span>
          </th>
          {columns.map((name) => (
            <th key={name} scope="col">
              <Explained name={explains[name]}>{table[name]}</Explained>
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.name}>
            <th scope="row">{row.name}</th>
            {columns.map((name) => (
              <td key={name} data-explains={explains[name]}>
                {row[name] ?? (row.angle === null && name !== 'length' ? '' : table.none)}
              </td>
            ))}
          </tr>
        ))}
        {rows.flatMap(({ name, elbow }) =>
          elbow === null ? (
            []
          ) : (
            <tr key={`elbow ${name}`}>
              <th scope="row">{name}</th>
              <td colSpan={5} className="bend-elbow">
                {table.elbow(bay?.stock?.elbows?.find(({ id }) => id === elbow)?.name ?? elbow)}
              </td>
            </tr>
          ),
        )}
      </tbody>
    </table>
  )
}

function Figures({ bends }: { bends: PipeBends }) {
  const units = useWindow((state) => state.units)
  const { figures } = text
  const { tubes, developed, cut, bendRadius, outsideDiameter, bender, material } = bends
  const pieces = tubes.length > 1 ? ` · ${figures.tubes(tubes.length)}` : ''
  const shown: readonly (readonly [string, string, Explains?])[] = [
    [figures.developed, lengthOf(developed, units), 'pipeLength'],
    [figures.cut, tubes.length === 0 ? table.none : `${lengthOf(cut, units)}${pieces}`, 'pipeLength'],
    [figures.radius, `${sizeOf(bendRadius, units)} · ${dOfBend(bendRadius, outsideDiameter)}`],
    [figures.material, material ?? figures.noMaterial],
    [figures.bender, bender ?? figures.noBender],
  ]
  return (
    <dl className="pipe-figures">
      {shown.map(([name, value, explains]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{explains ? <Explained name={explains}>{value}</Explained> : value}</dd>
        </div>
      ))}
    </dl>
  )
}

function CopyTable({ text: tableAsText }: { text: () => string }) {
  const [done, setDone] = useState(false)
  return (
    <Button
      className="small"
      onPress={() => {
        void navigator.clipboard?.writeText(tableAsText()).then(() => {
          setDone(true)
          setTimeout(() => setDone(false), 1500)
        })
      }}
    >
      {done ? table.copied : table.copy}
    </Button>
  )
}
