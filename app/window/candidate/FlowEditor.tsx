import type { Bay } from '../../../core/bay/schema.ts'
import { candidateWords } from '../candidateWords.ts'
import { EditPicker } from '../editors/EditPicker.tsx'
import { FigureField } from '../editors/FigureField.tsx'
import type { FigureSpec } from '../editors/figure.ts'
import { useWindow } from '../state/context.ts'
import { fieldAt, withField } from '../state/edit.ts'
import { bayOf } from '../state/windowState.ts'
import { type Flow, setFluid } from './flowEdits.ts'

const { flow: text } = candidateWords
const fluids = ['none', 'air', 'liquid'] as const

/** What flows through the pipes, for their losses, in the units in which people say it. */
export function FlowEditor() {
  const flow = useWindow((state) => bayOf(state)?.conditions?.flow)
  const fluid = flow?.fluid ?? 'none'
  return (
    <>
      <EditPicker
        label={text.fluid}
        value={fluid}
        choices={fluids.map((id) => ({ id, text: text.fluids[id] }))}
        step={text.changed}
        apply={(bay, id) => setFluid(bay, id as typeof fluid)}
      />
      {flow ? <FlowFigures fluid={flow.fluid} /> : <p className="callout-note">{text.none}</p>}
    </>
  )
}

const kelvin = 273.15
const asIs = { scale: 1, zero: 0 }

/** How the bay's SI values are shown: times `scale`, less `zero`. */
const states = {
  air: {
    temperature: { scale: 1, zero: kelvin },
    pressure: { scale: 1e-3, zero: 0 },
  },
  liquid: {
    density: asIs,
    viscosity: { scale: 1e3, zero: 0 },
  },
}

function FlowFigures({ fluid }: { fluid: Flow['fluid'] }) {
  const path = ['conditions', 'flow']
  return (
    <>
      <fieldset className="figure-group">
        <FigureField spec={{ of: text.short, label: text.massFlow, path: [...path, 'massFlow'], quantity: 'share' }} />
      </fieldset>
      {(['toCooler', 'fromCooler'] as const).map((end) => (
        <fieldset key={end} className="figure-group">
          <legend>{text.ends[end]}</legend>
          {Object.entries(states[fluid]).map(([name, { scale, zero }]) => {
            const label = text[name as 'temperature' | 'pressure' | 'density' | 'viscosity']
            const spec = scaled(
              { of: `${text.short}, ${text.ends[end]}`, label, path: [...path, end, name] },
              scale,
              zero,
            )
            return <FigureField key={`${fluid} ${name}`} spec={spec} />
          })}
        </fieldset>
      ))}
    </>
  )
}

/** A figure that people say otherwise than the bay keeps it. */
function scaled(base: Pick<FigureSpec, 'of' | 'label' | 'path'>, scale: number, zero: number): FigureSpec {
  return {
    ...base,
    quantity: 'number',
    read: (bay: Bay) => {
      const value = fieldAt(bay, base.path) as number | undefined
      return value === undefined ? undefined : value * scale - zero
    },
    // Free of the dust of binary arithmetic: 150 °C is 423.15 K.
    apply: (bay: Bay, value: number) => withField(bay, base.path, Number(((value + zero) / scale).toPrecision(12))),
  }
}
