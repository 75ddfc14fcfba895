import type { ReactNode } from 'react'
import { Switch } from 'react-aria-components/Switch'
import type { Bay, Pipe } from '../../../core/bay/schema.ts'
import type { CouplerJoint, Joint } from '../../../core/bay/workshopSchema.ts'
import type { PipeBends, PipeEndName } from '../../../core/pipe/answer.ts'
import { FigureField } from '../editors/FigureField.tsx'
import type { FigureSpec } from '../editors/figure.ts'
import { Picker } from '../editors/Picker.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { type FieldPath, withField } from '../state/edit.ts'
import { bayOf, candidateIn, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { sizeOf } from './figures.ts'
import { clampedBy, firstBead, jointBrief, joinedBy, noJoint, weldJoint } from './jointEdits.ts'
import { JointFigures } from './JointFigures.tsx'
import { portName, stockName } from './names.ts'
import { pointsOf } from './run.ts'

const { joint: text } = words.pipes
const none = '-'

interface Props {
  readonly pipe: Pipe
  readonly end: PipeEndName
  /** Of the pipe. */
  readonly path: FieldPath
  readonly bends: PipeBends | null
}

/** How one end of a pipe is joined: what by, and everything that belongs to it; below it what comes of it. */
export function JointEditor({ pipe, end, path, bends }: Props) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  if (!bay) return null
  const joint = pipe.joints?.[end]
  const couplers = bay.stock?.couplers ?? []
  const port = portName(bay, pipe[end])
  const put = (next: Joint | undefined, what: string) =>
    doEdit(room.store, {
      name: 'joint',
      label: text.changed(pipe.name, port, what),
      undo: 'step',
      apply: (whole) => withJoint(whole, path, pipe, end, next),
    })
  const answer = bends?.joints.find((each) => each.end === end)
  const size = (mm: number) => sizeOf(mm, units)
  return (
    <>
      <Picker
        label={text.by}
        value={joint === undefined ? noJoint : joint.kind === 'weld' ? weldJoint : joint.coupler}
        choices={[
          { id: noJoint, text: text.none },
          { id: weldJoint, text: text.weld },
          ...couplers.map(({ id, name, insideDiameters: [one, two] }) => ({
            id,
            text: stockName(name, text.diameters(size(one), size(two))),
          })),
        ]}
        onChange={(picked) => {
          const next = joinedBy(bay, joint, picked)
          put(next, jointBrief(bay, next))
        }}
      />
      {couplers.length === 0 && <p className="callout-note">{text.noStock}</p>}
      {joint?.kind === 'coupler' && (
        <CouplerFields joint={joint} put={put} pipe={pipe} end={end} path={[...path, 'joints', end]} bay={bay} />
      )}
      {answer && <JointFigures joint={answer} />}
    </>
  )
}

/** The bay with the joint; `joints` goes with its last one. */
function withJoint(bay: Bay, path: FieldPath, pipe: Pipe, end: PipeEndName, joint: Joint | undefined): Bay {
  const other = pipe.joints?.[end === 'from' ? 'to' : 'from']
  if (joint === undefined && other === undefined) return withField(bay, [...path, 'joints'], undefined)
  return withField(bay, [...path, 'joints', end], joint)
}

interface FieldsProps {
  readonly joint: CouplerJoint
  readonly put: (joint: Joint, what: string) => void
  readonly pipe: Pipe
  readonly end: PipeEndName
  /** Of the joint. */
  readonly path: FieldPath
  readonly bay: Bay
}

function CouplerFields({ joint, put, pipe, end, path, bay }: FieldsProps) {
  const form = bay.stock?.couplers?.find(({ id }) => id === joint.coupler)?.form
  const of = `${words.part.pipeTitle(pipe.name)}, ${text.title(portName(bay, pipe[end]))}`
  const figure = (
    label: string,
    field: FieldPath,
    quantity: FigureSpec['quantity'],
    more: Partial<FigureSpec> = {},
  ) => <FigureField key={field.join()} spec={{ of, label, path: [...path, ...field], quantity, ...more }} />
  const turnOn = (what: string, on: boolean, value: Partial<CouplerJoint>, field: 'bead' | 'end') => {
    const { [field]: _, ...rest } = joint
    put(on ? { ...joint, ...value } : rest, `${what}${on ? '' : `, ${words.field.none}`}`)
  }
  const candidate = useWindow(candidateIn)
  const points = joint.end === undefined && candidate ? pointsOf(bay, candidate, pipe) : null
  const present = end === 'from' ? points?.[0] : points?.at(-1)
  return (
    <>
      <fieldset className="figure-group">
        {form === 'elbow'
          ? figure(text.roll, ['roll'], 'angle', { otherwise: 0 })
          : figure(text.gap, ['gap'], 'length', { otherwise: 0 })}
      </fieldset>
      {(['port', 'pipe'] as const).map((on) => (
        <Clamp key={on} on={on} joint={joint} put={put} bay={bay}>
          {figure(text.clampRoll[on], ['clamps', on, 'roll'], 'angle', { optional: true, emptyText: text.anyRoll })}
        </Clamp>
      ))}
      <p className="callout-note">{text.rollNote}</p>
      <OnOff
        label={text.bead}
        isOn={joint.bead !== undefined}
        onChange={(on) => turnOn(text.bead, on, { bead: firstBead }, 'bead')}
      />
      {joint.bead && (
        <fieldset className="figure-group">
          {figure(text.beadHeight, ['bead', 'height'], 'length')}
          {figure(text.beadWidth, ['bead', 'width'], 'length')}
          {figure(text.beadFromEnd, ['bead', 'fromEnd'], 'length')}
        </fieldset>
      )}
      <OnOff
        label={text.end}
        isOn={joint.end !== undefined}
        isDisabled={joint.end === undefined && !present}
        onChange={(on) =>
          present !== undefined || !on ? turnOn(text.end, on, { end: present && [...present] }, 'end') : undefined
        }
      />
      {joint.end && (
        <fieldset className="figure-group figure-group-three">
          {['X', 'Y', 'Z'].map((axis, k) => figure(text.endAxis(axis), ['end', k], 'length'))}
        </fieldset>
      )}
    </>
  )
}

interface ClampProps {
  readonly on: 'port' | 'pipe'
  readonly joint: CouplerJoint
  readonly put: (joint: Joint, what: string) => void
  readonly bay: Bay
  /** Where its screw stands; shown when there is one. */
  readonly children: ReactNode
}

function Clamp({ on, joint, put, bay, children }: ClampProps) {
  const units = useWindow((state) => state.units)
  const clamps = bay.stock?.clamps ?? []
  const clamp = joint.clamps?.[on]
  if (clamps.length === 0) return null
  const name = (id: string) => clamps.find((each) => each.id === id)?.name ?? id
  return (
    <div className="clamp-fields">
      <Picker
        label={text.clamp[on]}
        value={clamp?.clamp ?? none}
        choices={[
          { id: none, text: text.noClamp },
          ...clamps.map(({ id, name: called, least, most }) => ({
            id,
            text: stockName(called, text.clampSize(sizeOf(least, units), sizeOf(most, units))),
          })),
        ]}
        onChange={(id) =>
          put(
            clampedBy(joint, on, id === none ? undefined : id),
            `${text.clamp[on]}: ${id === none ? text.noClamp : name(id)}`,
          )
        }
      />
      {clamp && children}
    </div>
  )
}

function OnOff({
  label,
  isOn,
  isDisabled,
  onChange,
}: {
  label: string
  isOn: boolean
  isDisabled?: boolean
  onChange: (on: boolean) => void
}) {
  return (
    <Switch className="in-place" isSelected={isOn} isDisabled={isDisabled} onChange={onChange}>
      <span className="switch-box" aria-hidden="true" />
      {label}
    </Switch>
  )
}
