import type { Bay } from '../../../core/bay/schema.ts'
import type { Clamp, Coupler, StockElbow, StockTube } from '../../../core/bay/workshopSchema.ts'
import { drawnRoughness } from '../../../core/pipe/loss.ts'
import { candidateWords } from '../candidateWords.ts'
import { EditPicker } from '../editors/EditPicker.tsx'
import { FigureField } from '../editors/FigureField.tsx'
import type { FigureSpec } from '../editors/figure.ts'
import { type FieldPath, withField } from '../state/edit.ts'
import { words } from '../words.ts'
import { WordsField } from '../editors/WordsField.tsx'
import { StockBender } from './StockBender.tsx'
import { figuresOf } from './stockFigures.ts'
import { type CouplerForm, setCouplerForm, setTubeSize, type StockList } from './stockEdits.ts'

const { stock: text } = candidateWords
const forms = ['straight', 'hump', 'elbow'] as const

interface Place {
  readonly index: number
  readonly path: FieldPath
}

/** All figures of one thing in the shop. */
export function StockItem({ bay, list, index, path }: Place & { bay: Bay; list: StockList }) {
  const { stock, benders } = bay
  const place = { index, path }
  const [tube, elbow, coupler, clamp, bender] = [
    list === 'tubes' && stock?.tubes?.[index],
    list === 'elbows' && stock?.elbows?.[index],
    list === 'couplers' && stock?.couplers?.[index],
    list === 'clamps' && stock?.clamps?.[index],
    list === 'benders' && benders?.[index],
  ]
  return (
    <>
      {tube && <TubeItem tube={tube} {...place} />}
      {elbow && <ElbowItem elbow={elbow} {...place} />}
      {coupler && <CouplerItem coupler={coupler} {...place} />}
      {clamp && <ClampItem clamp={clamp} {...place} />}
      {bender && <StockBender bender={bender} path={path} />}
    </>
  )
}

function Figures({ specs }: { specs: readonly FigureSpec[] }) {
  return (
    <fieldset className="figure-group">
      {specs.map((spec) => (
        <FigureField key={spec.path.join()} spec={spec} />
      ))}
    </fieldset>
  )
}

function MaterialField({ of, value, path }: { of: string; value: string; path: FieldPath }) {
  return (
    <WordsField
      label={text.material}
      of={of}
      value={value}
      apply={(bay, next) => withField(bay, [...path, 'material'], next)}
    />
  )
}

function TubeItem({ tube, index, path }: Place & { tube: StockTube }) {
  const figure = figuresOf(tube.name, path)
  const size = (field: 'outsideDiameter' | 'wall') => ({
    apply: (bay: Bay, mm: number) => setTubeSize(bay, index, field, mm),
  })
  return (
    <>
      <MaterialField of={tube.name} value={tube.material} path={path} />
      <Figures
        specs={[
          figure(words.field.outsideDiameter, ['outsideDiameter'], 'length', size('outsideDiameter')),
          figure(text.wall, ['wall'], 'length', size('wall')),
          figure(text.roughness, ['roughness'], 'length', { otherwise: drawnRoughness }),
        ]}
      />
    </>
  )
}

function ElbowItem({ elbow, path }: Place & { elbow: StockElbow }) {
  const figure = figuresOf(elbow.name, path)
  return (
    <>
      <MaterialField of={elbow.name} value={elbow.material} path={path} />
      <Figures
        specs={[
          figure(words.field.outsideDiameter, ['outsideDiameter']),
          figure(text.wall, ['wall']),
          figure(text.angle, ['angle'], 'angle'),
          figure(text.radius, ['radius']),
          ...text.legs.map((label, i) => figure(label, ['legs', i])),
        ]}
      />
    </>
  )
}

function CouplerItem({ coupler, index, path }: Place & { coupler: Coupler }) {
  const figure = figuresOf(coupler.name, path)
  const ofForm: Record<CouplerForm, readonly FigureSpec[]> = {
    straight: [figure(text.length, ['length'])],
    hump: [
      figure(text.length, ['length']),
      figure(text.humpDiameter, ['hump', 'diameter']),
      figure(text.humpLength, ['hump', 'length']),
    ],
    elbow: [
      figure(text.angle, ['angle'], 'angle'),
      figure(text.radius, ['radius']),
      ...text.legs.map((label, i) => figure(label, ['legs', i])),
    ],
  }
  return (
    <>
      <EditPicker
        label={text.form}
        value={coupler.form}
        choices={forms.map((id) => ({ id, text: text.forms[id] }))}
        step={(said) => `${coupler.name}, ${text.form}: ${said}`}
        apply={(bay, form) => setCouplerForm(bay, index, form as CouplerForm)}
      />
      <Figures
        specs={[
          ...text.insides.map((label, i) => figure(label, ['insideDiameters', i])),
          figure(text.wall, ['wall']),
          ...ofForm[coupler.form],
          figure(text.insertion, ['insertion']),
          figure(text.largestAngle, ['largestAngle'], 'angle'),
          figure(text.largestOffset, ['largestOffset']),
          figure(text.largestGap, ['largestGap']),
          figure(words.field.tolerance, ['tolerance'], 'length', { otherwise: 0 }),
        ]}
      />
    </>
  )
}

/** Room for a screwdriver to begin with, mm. Common practice, no source. */
const firstTool = { diameter: 10, length: 120 }

function ClampItem({ clamp, path }: Place & { clamp: Clamp }) {
  const figure = figuresOf(clamp.name, path)
  const known = clamp.tool ? 'known' : 'unknown'
  return (
    <>
      <Figures
        specs={[
          figure(text.least, ['least']),
          figure(text.most, ['most']),
          figure(text.band, ['band']),
          figure(text.height, ['height']),
        ]}
      />
      <EditPicker
        label={text.tool}
        value={known}
        choices={(['unknown', 'known'] as const).map((id) => ({ id, text: text[id] }))}
        step={(said) => `${clamp.name}, ${text.tool}: ${said}`}
        apply={(bay, id) => withField(bay, [...path, 'tool'], id === 'known' ? firstTool : undefined)}
      />
      {clamp.tool && (
        <Figures
          specs={[figure(text.toolDiameter, ['tool', 'diameter']), figure(text.toolLength, ['tool', 'length'])]}
        />
      )}
    </>
  )
}
