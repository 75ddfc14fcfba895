import { useMemo, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Checkbox } from 'react-aria-components/Checkbox'
import { CheckboxGroup } from 'react-aria-components/CheckboxGroup'
import { Dialog } from 'react-aria-components/Dialog'
import { Heading } from 'react-aria-components/Heading'
import { Label } from 'react-aria-components/Label'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import type { Bay } from '../../../core/bay/schema.ts'
import { comparedIds, isKnownNow, mostCompared } from '../state/compareRoom.ts'
import { useAids, useHere, useKnown, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { CompareTable } from './CompareTable.tsx'
import { OverlayChoice } from './OverlayChoice.tsx'
import { type Column, compareRows, compareText } from './rows.ts'

const { compare: text } = words

/** Two to four candidates side by side, a row for each figure. */
export function CompareDialog() {
  const { room } = useHere()
  const open = useAids(({ comparing }) => comparing)
  const bay = useWindow(bayOf)
  const close = () => room.aids.setState({ comparing: false })
  return (
    <ModalOverlay className="veil" isOpen={open && bay !== null} isDismissable onOpenChange={(on) => !on && close()}>
      <Modal className="sheet sheet-compare">
        <Dialog className="compare">
          <Heading slot="title">{text.title}</Heading>
          {bay && <Comparison bay={bay} close={close} />}
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function Comparison({ bay, close }: { bay: Bay; close: () => void }) {
  const units = useWindow((state) => state.units)
  const columns = useColumns()
  const rows = useMemo(() => compareRows(bay, columns, units), [bay, columns, units])
  const done = columns.filter(({ compared }) => compared !== undefined).length
  if (columns.length < 2) return <p>{text.tooFew}</p>
  return (
    <>
      <div className="compare-head">
        <Which bay={bay} ids={columns.map(({ candidate }) => candidate.id)} />
        <p className="compare-standing" role="status">
          {done < columns.length ? text.working(done, columns.length) : text.done}
        </p>
      </div>
      <div className="compare-scroll">
        <CompareTable columns={columns} rows={rows} />
      </div>
      <p className="compare-legend">{text.legend}</p>
      <OverlayChoice />
      <div className="sheet-buttons">
        <Button className="main" autoFocus onPress={close}>
          {text.close}
        </Button>
        <CopyTable content={() => compareText(columns, rows)} />
      </div>
    </>
  )
}

function useColumns(): readonly Column[] {
  const known = useKnown()
  const compared = useAids((aids) => aids.compared)
  const bay = useWindow(bayOf)
  const state = useHere().room.store.getState()
  const ids = comparedIds(state, { compared })
  const key = ids.join()
  // biome-ignore lint/correctness/useExhaustiveDependencies: the state counts by the bay that is in it, the list by its names
  return useMemo(
    () =>
      ids.flatMap((id): Column[] => {
        const candidate = bay?.candidates.find((each) => each.id === id)
        const entry = known.get(id)
        return candidate ? [{ candidate, compared: isKnownNow(entry, state) ? entry.compared : undefined }] : []
      }),
    [bay, known, key],
  )
}

/** Which candidates stand side by side; never fewer than two. */
function Which({ bay, ids }: { bay: Bay; ids: readonly string[] }) {
  const { room } = useHere()
  return (
    <CheckboxGroup
      className="compare-which"
      value={[...ids]}
      onChange={(value) => value.length > 1 && room.aids.setState({ compared: value })}
    >
      <Label>{text.which}</Label>
      {bay.candidates.map(({ id, name }) => {
        const isIn = ids.includes(id)
        return (
          <Checkbox
            key={id}
            value={id}
            className="compare-check"
            isDisabled={isIn ? ids.length <= 2 : ids.length >= mostCompared}
          >
            <span className="compare-box" aria-hidden="true" />
            {name}
          </Checkbox>
        )
      })}
    </CheckboxGroup>
  )
}

function CopyTable({ content }: { content: () => string }) {
  const [done, setDone] = useState(false)
  return (
    <Button
      className="plain"
      onPress={() =>
        void navigator.clipboard?.writeText(content()).then(() => {
          setDone(true)
          setTimeout(() => setDone(false), 1500)
        })
      }
    >
      {done ? text.copied : text.copy}
    </Button>
  )
}
