import { Button } from 'react-aria-components/Button'
import type { PipeBends, PipeReason } from '../../../core/pipe/answer.ts'
import { useHere, useWindow } from '../state/context.ts'
import { words } from '../words.ts'
import { flownTo } from '../viewport/camera.ts'
import { reasonText } from '../../wording/reasonWords.ts'

const { pipes: text } = words

/** Every reason why the pipe cannot be made, and what is to be watched; each leads to its place in the drawing. */
export function Remarks({ bends }: { bends: PipeBends }) {
  const { reasons, notes } = bends
  return (
    <>
      <RemarkList title={text.reasons} remarks={reasons} first={0} kind="reason" />
      {notes.length > 0 && (
        <details className="remarks-more">
          <summary>{text.notesShort(notes.length)}</summary>
          <RemarkList title={text.notes} remarks={notes} first={reasons.length} kind="note" />
        </details>
      )}
    </>
  )
}

interface Props {
  readonly title: string
  readonly remarks: readonly PipeReason[]
  /** Number of the first one among all remarks of the pipe. */
  readonly first: number
  readonly kind: 'reason' | 'note'
}

function RemarkList({ title, remarks, first, kind }: Props) {
  if (remarks.length === 0) return null
  return (
    <section className={`remarks remarks-${kind}`} aria-label={title}>
      {kind === 'reason' && <h3>{title}</h3>}
      <ol>
        {remarks.map((remark, i) => (
          // Remarks have no name but their place in the list.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          <li key={i}>
            <Remark remark={remark} number={first + i} kind={kind} />
          </li>
        ))}
      </ol>
    </section>
  )
}

function Remark({ remark, number, kind }: { remark: PipeReason; number: number; kind: Props['kind'] }) {
  const { room, eye } = useHere()
  const units = useWindow((state) => state.units)
  const pointed = useWindow((state) => state.reason)
  const said = reasonText(remark, units)
  const { at } = remark
  const badge = (
    <span className={`badge badge-${kind}`} aria-hidden="true">
      {kind === 'reason' ? '⚠' : 'i'}
    </span>
  )
  if (!at)
    return (
      <p className="remark remark-plain">
        {badge}
        <span>{said}</span>
      </p>
    )
  const point = (on: boolean) => room.store.setState({ reason: on ? number : null })
  return (
    <Button
      className={`remark ${pointed === number ? 'remark-now' : ''}`}
      onHoverStart={() => point(true)}
      onHoverEnd={() => point(false)}
      onFocus={() => point(true)}
      onBlur={() => point(false)}
      onPress={() => {
        point(true)
        eye.fly(room.store.getState().view, (rig, frame) => flownTo(rig, at, at, frame, false))
      }}
    >
      {badge}
      <span>{said}</span>
    </Button>
  )
}
