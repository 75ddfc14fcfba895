import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Input } from 'react-aria-components/Input'
import { Text } from 'react-aria-components/Text'
import { TextField } from 'react-aria-components/TextField'
import { defaultUncertainty } from '../../../core/bay/defaults.ts'
import type { KeepOut } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import { meshCorners } from '../../../core/shape/meshCorners.ts'
import { fitUncertainty, leastPairs, type PointPair, type RigidFit, rigidFit } from '../../../core/shape/rigidFit.ts'
import { formatUncertainty } from '../../../core/units/lengthText.ts'
import { faultText } from '../../wording.ts'
import { withoutPlace } from '../editors/figure.ts'
import { readTogether } from '../editors/pastedTogether.ts'
import { fieldText, readField } from '../editors/quantity.ts'
import { useHere, useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { useMeasure } from './useMeasure.ts'

const text = words.measure.placing
const axes = ['X', 'Y', 'Z']

interface Props {
  readonly keepOut: KeepOut
  readonly index: number
}

/** Typed readings of one pair: on the mesh, then in the bay. */
type PairTexts = readonly string[]
const emptyPair: PairTexts = ['', '', '', '', '', '']

/** Lays a mesh by points that are known on it and in the bay; how well they fit is said and may become its uncertainty. */
export function MeshPlacing({ keepOut, index }: Props) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const kept = useMeasure((state) => state.pairs.get(keepOut.id))
  const [open, setOpen] = useState(kept !== undefined)
  const [faults, setFaults] = useState<ReadonlyMap<string, Fault>>(new Map())
  const [refused, setRefused] = useState<string | null>(null)
  const [fit, setFit] = useState<{ fit: RigidFit; pairs: readonly PointPair[] } | null>(null)
  const pairs = kept ?? Array.from({ length: leastPairs }, () => emptyPair)
  const keep = (next: readonly PairTexts[]) =>
    room.measure.store.setState((state) => ({ pairs: new Map([...state.pairs, [keepOut.id, next]]) }))
  const type = (pair: number, field: number, typed: string) => {
    keep(pairs.map((one, i) => (i === pair ? one.map((old, k) => (k === field ? typed : old)) : one)))
    setFit(null)
  }

  /** A whole point pasted into one of its fields. */
  const typeAll = (pair: number, start: number, point: readonly number[]) => {
    const laid = point.map((mm) => fieldText(mm, 'length', units))
    keep(pairs.map((one, i) => (i === pair ? one.map((old, k) => laid[k - start] ?? old) : one)))
    setFit(null)
  }

  const place = () => {
    const wrong = new Map<string, Fault>()
    const read = pairs.map((texts, pair) =>
      texts.map((typed, field) => {
        const length = readField(typed, 'length', units)
        if (length.ok) return length.value
        wrong.set(`${pair} ${field}`, length.faults[0])
        return 0
      }),
    )
    setFaults(wrong)
    setRefused(wrong.size > 0 ? text.badReading : null)
    if (wrong.size > 0) return
    const points = read.map(([a, b, c, x, y, z]): PointPair => ({ from: [a, b, c], to: [x, y, z] }))
    const found = rigidFit(points)
    if (!found.ok) {
      const [fault] = found.faults
      const line = fault.code === 'points-in-line'
      return setRefused(line ? (fault.field === 'from' ? text.lineMesh : text.lineBay) : faultText(fault))
    }
    const { at, turn } = found.value
    const done = doEdit(room.store, {
      name: 'place-mesh',
      label: text.placed(keepOut.name),
      undo: 'step',
      apply: (bay) =>
        withField(
          withField(bay, ['keepOuts', index, 'shape', 'at'], [...at]),
          ['keepOuts', index, 'shape', 'turn'],
          [...turn],
        ),
    })
    if (!done.ok) return setRefused(faultText(done.faults[0]))
    setFit({ fit: found.value, pairs: points })
  }

  if (!open)
    return (
      <Button className="small" onPress={() => setOpen(true)}>
        {text.open}
      </Button>
    )
  const figure = (mm: number) => formatUncertainty(mm, units, units === 'mm' ? { decimals: 2 } : { decimals: 3 })
  return (
    <fieldset className="placing">
      <legend>{text.title}</legend>
      <p className="callout-note">{text.hint}</p>
      {pairs.map((texts, pair) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: pairs have no name but their number
        <fieldset key={pair} className="placing-pair" aria-label={text.pair(pair + 1)}>
          <p className="placing-head">
            <span>{text.pair(pair + 1)}</span>
            {fit && (
              <span>
                {text.left} {figure(fit.fit.residuals[pair])}
              </span>
            )}
            {pairs.length > leastPairs && (
              <Button
                className="small"
                aria-label={text.removePair(pair + 1)}
                onPress={() => {
                  keep(pairs.filter((_, i) => i !== pair))
                  setFit(null)
                }}
              >
                −
              </Button>
            )}
          </p>
          {[0, 3].map((start) => (
            <div key={start} className="placing-row">
              <span className="placing-side">{start === 0 ? text.onMesh : text.inBay}</span>
              {axes.map((axis, k) => (
                <Reading
                  key={axis}
                  label={(start === 0 ? text.onMeshOf : text.inBayOf)(pair + 1, axis)}
                  axis={axis}
                  value={texts[start + k]}
                  fault={faults.get(`${pair} ${start + k}`) ?? null}
                  onChange={(typed) => type(pair, start + k, typed)}
                  onPoint={(point) => typeAll(pair, start, point)}
                  onEnter={place}
                />
              ))}
            </div>
          ))}
        </fieldset>
      ))}
      {refused && (
        <p className="figure-fault" role="alert">
          {refused}
        </p>
      )}
      <div className="points-tools">
        <Button className="small" onPress={place}>
          {text.fit}
        </Button>
        <Button className="small" onPress={() => keep([...pairs, emptyPair])}>
          {text.addPair}
        </Button>
        <Button className="small" onPress={() => setOpen(false)}>
          {text.close}
        </Button>
      </div>
      {fit && <FitTold keepOut={keepOut} index={index} fit={fit.fit} pairs={fit.pairs} figure={figure} />}
    </fieldset>
  )
}

function FitTold({
  keepOut,
  index,
  fit,
  pairs,
  figure,
}: {
  keepOut: KeepOut
  index: number
  fit: RigidFit
  pairs: readonly PointPair[]
  figure: (mm: number) => string
}) {
  const { room } = useHere()
  const bounds = useWindow((state) =>
    keepOut.shape.kind === 'mesh' ? state.meshes.get(keepOut.shape.file)?.bounds : undefined,
  )
  const unit = keepOut.shape.kind === 'mesh' ? keepOut.shape.unit : 'mm'
  const spread = bounds ? fitUncertainty(fit, pairs, meshCorners(bounds, unit)) : null
  // In whole tenths, upwards: a suggestion to type, not a figure to keep.
  const total = spread === null ? null : Math.ceil(10 * Math.hypot(defaultUncertainty, spread)) / 10
  return (
    <output className="placing-told">
      <p>
        {fit.rootMeanSquare < 1e-6 ? text.exact : text.rms(figure(fit.rootMeanSquare))}{' '}
        {pairs.length === leastPairs && text.few}
      </p>
      {spread !== null && spread > 1e-6 && total !== null && (
        <>
          <p>{text.suggestion(figure(total), figure(defaultUncertainty), figure(spread))}</p>
          <Button
            className="small"
            onPress={() =>
              void doEdit(room.store, {
                name: 'uncertainty',
                label: words.measure.changed(keepOut.name, words.keepOut.uncertainty.toLowerCase(), figure(total)),
                undo: 'step',
                apply: (bay) => withField(bay, ['keepOuts', index, 'uncertainty'], total),
              })
            }
          >
            {text.take(figure(total))}
          </Button>
        </>
      )}
    </output>
  )
}

function Reading({
  label,
  axis,
  value,
  fault,
  onChange,
  onPoint,
  onEnter,
}: {
  label: string
  axis: string
  value: string
  fault: Fault | null
  onChange: (typed: string) => void
  onPoint: (point: readonly number[]) => void
  onEnter: () => void
}) {
  const units = useWindow((state) => state.units)
  return (
    <TextField className="figure-field" value={value} onChange={onChange} isInvalid={fault !== null} aria-label={label}>
      <span className="figure-input">
        <Input
          autoComplete="off"
          spellCheck={false}
          placeholder={axis}
          data-draft={value === '' ? undefined : true}
          onPaste={(event) => {
            const read = readTogether(event.clipboardData.getData('text/plain'), axes, 'length', units)
            if (!read?.ok) return
            event.preventDefault()
            onPoint(read.value)
          }}
          onKeyDown={(event) => event.key === 'Enter' && onEnter()}
        />
      </span>
      {fault && (
        <Text slot="errorMessage" className="figure-fault">
          {axis}: {faultText(withoutPlace(fault))}
        </Text>
      )}
    </TextField>
  )
}
