import { useState } from 'react'
import type { Bay, KeepOut } from '../../../core/bay/schema.ts'
import { type MeshUnit, meshUnits } from '../../../core/shape/meshShape.ts'
import { withPathCoordinate } from '../../../core/shape/sweepPath.ts'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import type { Rows } from '../editors/gridRows.ts'
import { EditPicker } from '../editors/EditPicker.tsx'
import { Picker } from '../editors/Picker.tsx'
import { PointsGrid } from '../editors/PointsGrid.tsx'
import { withField } from '../state/edit.ts'
import { words } from '../words.ts'
import { MeshPlacing } from './MeshPlacing.tsx'
import {
  type Base,
  boxGroups,
  cylinderGroups,
  directionGroup,
  meshGroups,
  pointGroup,
  roundGroup,
} from './shapeGroups.ts'

const text = words.measure.shape
const xyz = [text.x, text.y, text.z]

interface Props {
  readonly keepOut: KeepOut
  readonly index: number
}

/** Every number of a keep-out's shape, as its kind has them. */
export function ShapeEditor({ keepOut, index }: Props) {
  const { shape, name } = keepOut
  const base: Base = { of: name, path: ['keepOuts', index, 'shape'] }
  switch (shape.kind) {
    case 'box':
      return <BoxEditor base={base} index={index} />
    case 'cylinder':
      return <FigureGroups groups={cylinderGroups(base, index)} />
    case 'hull':
      return (
        <>
          <PointsGrid
            of={name}
            title={text.points}
            path={[...base.path, 'points']}
            columns={xyz}
            least={4}
            most={5000}
            fresh={sameAgain}
          />
          <p className="callout-note">{text.pointsHint}</p>
        </>
      )
    case 'halfSpace':
      return <PlaneEditor base={base} shape={shape} />
    case 'sweep':
      return <SweepEditor base={base} index={index} />
    case 'tube':
      return (
        <>
          <PointsGrid of={name} title={text.path} path={[...base.path, 'path']} columns={xyz} least={2} most={1000} />
          <p className="callout-note">{text.pathHint}</p>
          <FigureGroups groups={[roundGroup(base, index, 'tube')]} />
          <p className="callout-note">{text.bendHint}</p>
        </>
      )
    case 'mesh':
      return <MeshEditor base={base} index={index} keepOut={keepOut} unit={shape.unit} />
  }
}

/** A new point of a hull begins on the last one: that leaves the hull as it is until its numbers are typed. */
const sameAgain = (rows: Rows, index: number) => rows[index - 1] ?? rows[0]

const unitChoices = (Object.keys(meshUnits) as MeshUnit[]).map((id) => ({ id, text: text.units[id] }))

function MeshEditor({ base, index, keepOut, unit }: Props & { base: Base; unit: MeshUnit }) {
  return (
    <>
      <FigureGroups groups={meshGroups(base, index)} />
      <EditPicker
        label={text.unit}
        value={unit}
        choices={unitChoices}
        step={(said) => words.measure.changed(base.of, text.unit.toLowerCase(), said)}
        apply={(bay, id) => withField(bay, [...base.path, 'unit'], id)}
      />
      <MeshPlacing key={keepOut.id} keepOut={keepOut} index={index} />
    </>
  )
}

function BoxEditor({ base, index }: { base: Base; index: number }) {
  const [by, setBy] = useState<'centre' | 'corner'>('centre')
  return (
    <>
      <Picker
        label={text.by}
        value={by}
        choices={(['centre', 'corner'] as const).map((id) => ({ id, text: text[id] }))}
        onChange={(id) => setBy(id as typeof by)}
      />
      <FigureGroups groups={boxGroups(base, index, by)} />
    </>
  )
}

const facings = {
  floor: [0, 0, 1],
  ceiling: [0, 0, -1],
  front: [1, 0, 0],
  rear: [-1, 0, 0],
  left: [0, 1, 0],
  right: [0, -1, 0],
} as const
type Facing = keyof typeof facings

function PlaneEditor({ base, shape }: { base: Base; shape: Extract<KeepOut['shape'], { kind: 'halfSpace' }> }) {
  const way = shape.normal.map(Math.sign)
  const straight = shape.normal.filter((x) => x !== 0).length === 1
  const now = straight
    ? (Object.keys(facings) as Facing[]).find((id) => facings[id].every((x, k) => x === way[k]))
    : null
  const choices = (Object.keys(facings) as Facing[]).map((id) => ({ id: id as string, text: text.facings[id] }))
  return (
    <>
      <EditPicker
        label={text.facing}
        value={now ?? 'other'}
        choices={now ? choices : [...choices, { id: 'other', text: text.facings.other }]}
        step={(said) => words.measure.changed(base.of, text.facing.toLowerCase(), said)}
        apply={(bay, id) =>
          id === 'other' ? bay : withField(bay, [...base.path, 'normal'], [...facings[id as Facing]])
        }
      />
      <FigureGroups groups={[pointGroup(base, text.point, 'point'), directionGroup(base, text.normal, 'normal')]} />
      <p className="callout-note">{text.normalHint}</p>
    </>
  )
}

function SweepEditor({ base, index }: { base: Base; index: number }) {
  const whole = (bay: Bay, row: number, column: number, value: number): Bay => {
    const shape = bay.keepOuts[index]?.shape
    if (shape?.kind !== 'sweep') return bay
    return withField(bay, [...base.path, 'path'], withPathCoordinate(shape, row, column, value))
  }
  return (
    <>
      <PointsGrid
        of={base.of}
        title={text.path}
        path={[...base.path, 'path']}
        columns={xyz}
        least={2}
        most={1000}
        apply={whole}
      />
      <p className="callout-note">{text.sweepHint}</p>
      <PointsGrid
        of={base.of}
        title={text.section}
        path={[...base.path, 'section']}
        columns={[text.across, text.alongUp]}
        least={3}
        most={500}
      />
      <p className="callout-note">{text.sectionHint}</p>
      <FigureGroups groups={[directionGroup(base, text.up, 'up')]} />
    </>
  )
}
