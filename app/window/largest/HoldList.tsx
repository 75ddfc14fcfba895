import { type ReactNode, useEffect, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { useHere } from '../state/context.ts'

export interface HoldRow {
  readonly key: string
  readonly title: string
  readonly brief?: ReactNode
  /** What lights up in the drawing, as `keepOut beam` or `part core`; a limit lights nothing. */
  readonly lights: readonly string[]
  readonly onPress?: () => void
}

/** What holds a core, one below the other: what is pointed at, focused or chosen lights up in the drawing. */
export function HoldList({ label, rows }: { label: string; rows: readonly HoldRow[] }) {
  const { room } = useHere()
  const [pinned, setPinned] = useState<string | null>(null)
  const light = (key: string | null) => {
    const lit = rows.find((row) => row.key === (key ?? pinned))?.lights ?? []
    room.store.setState({ lit })
  }
  useEffect(() => () => room.store.setState({ lit: [] }), [room])
  return (
    <ul className="holds" aria-label={label}>
      {rows.map(({ key, title, brief, lights, onPress }) => (
        <li key={key}>
          <Button
            className={`hold ${pinned === key ? 'hold-now' : ''}`}
            aria-pressed={lights.length > 0 ? pinned === key : undefined}
            onHoverStart={() => light(key)}
            onHoverEnd={() => light(null)}
            onFocus={() => light(key)}
            onBlur={() => light(null)}
            onPress={() => {
              if (onPress) return onPress()
              const next = pinned === key ? null : key
              setPinned(next)
              room.store.setState({ lit: next === null ? [] : lights })
            }}
          >
            <span className="hold-title">{title}</span>
            {brief !== undefined && <span className="hold-brief">{brief}</span>}
          </Button>
        </li>
      ))}
    </ul>
  )
}
