import type { Bay, Pipe } from '../../../core/bay/schema.ts'
import { defaultPipeClearance } from '../../../core/bay/defaults.ts'
import type { PipeBends } from '../../../core/pipe/answer.ts'
import { bendingOf } from '../../../core/pipe/makeable.ts'
import { FigureField } from '../editors/FigureField.tsx'
import type { FigureSpec } from '../editors/figure.ts'
import { type Choice, Picker } from '../editors/Picker.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { type FieldPath, withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { dOfBend, lengthOf, sizeOf } from './figures.ts'
import { stockName } from './names.ts'

const { tube: text } = words.pipes
/** Stands for leaving a field out; ids are never empty. */
const none = '-'

interface Props {
  readonly pipe: Pipe
  readonly path: FieldPath
  readonly bends: PipeBends | null
}

/** What the pipe is bent from and on: tube of stock, bender, and a radius that there is a die for. */
export function TubeEditor({ pipe, path, bends }: Props) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  if (!bay) return null
  const size = (mm: number) => sizeOf(mm, units)
  const of = words.part.pipeTitle(pipe.name)
  const length = (label: string, field: string, more: Partial<FigureSpec> = {}): FigureSpec => ({
    of,
    label,
    path: [...path, field],
    quantity: 'length',
    ...more,
  })
  const change = (what: string, said: string, apply: (bay: Bay) => Bay) =>
    doEdit(room.store, { name: what, label: `${of}, ${what}: ${said}`, undo: 'step', apply })
  const tubes = bay.stock?.tubes ?? []
  const tool = bendingOf(bay, pipe, bends?.material ?? null).tool
  const chooseTube = (id: string) => {
    const tube = tubes.find((each) => each.id === id)
    if (!tube) return change(text.stock, text.noStock, (whole) => withField(whole, [...path, 'tube'], undefined))
    const fields = { tube: tube.id, outsideDiameter: tube.outsideDiameter, wall: tube.wall }
    return change(text.stock, tube.name, (whole) =>
      Object.entries(fields).reduce((edited, [field, value]) => withField(edited, [...path, field], value), whole),
    )
  }
  return (
    <>
      {tubes.length > 0 && (
        <Picker
          label={text.stock}
          value={pipe.tube ?? none}
          choices={[
            { id: none, text: text.noStock },
            ...tubes.map(({ id, name, outsideDiameter, wall }) => ({
              id,
              text: stockName(name, text.stockSize(size(outsideDiameter), size(wall))),
            })),
          ]}
          onChange={chooseTube}
        />
      )}
      <fieldset className="figure-group">
        <FigureField spec={length(words.field.outsideDiameter, 'outsideDiameter')} />
        <FigureField spec={length(words.field.wall, 'wall')} />
      </fieldset>
      {(bay.benders ?? []).length > 1 && (
        <Picker
          label={text.bender}
          value={pipe.bender ?? none}
          choices={[
            { id: none, text: text.firstBender },
            ...(bay.benders ?? []).map(({ id, name }) => ({ id, text: name })),
          ]}
          onChange={(id) =>
            change(text.bender, id === none ? text.firstBender : id, (whole) =>
              withField(whole, [...path, 'bender'], id === none ? undefined : id),
            )
          }
        />
      )}
      {tool ? (
        <div className="radius-fields">
          <Picker
            label={text.radius}
            value={String(pipe.bendRadius)}
            choices={radiusChoices(pipe, tool.radii, size)}
            explained={text.dExplained(
              lengthOf(pipe.bendRadius, units),
              lengthOf(pipe.outsideDiameter, units),
              dOfBend(pipe.bendRadius, pipe.outsideDiameter),
            )}
            onChange={(radius) =>
              change(text.radius, size(Number(radius)), (whole) =>
                withField(whole, [...path, 'bendRadius'], Number(radius)),
              )
            }
          />
          <FigureField spec={length(text.typedRadius, 'bendRadius')} />
        </div>
      ) : (
        <>
          <FigureField spec={length(text.radius, 'bendRadius')} />
          <p className="callout-note">{text.noTool(size(pipe.outsideDiameter))}</p>
        </>
      )}
      <fieldset className="figure-group">
        <FigureField spec={length(words.field.clearance, 'clearance', { otherwise: defaultPipeClearance })} />
        <FigureField spec={length(words.field.tolerance, 'tolerance', { otherwise: 0 })} />
      </fieldset>
      <Picker
        label={text.flow}
        value={pipe.flow ?? none}
        choices={[
          { id: none, text: text.flowNone },
          ...(['to-cooler', 'from-cooler'] as const).map((id) => ({ id, text: text.flowOf[id] })),
        ]}
        onChange={(id) =>
          change(text.flow, id === none ? text.flowNone : text.flowOf[id as keyof typeof text.flowOf], (whole) =>
            withField(whole, [...path, 'flow'], id === none ? undefined : id),
          )
        }
      />
    </>
  )
}

/** The bender's radii, and the one that the pipe has where there is no die for it. */
function radiusChoices(pipe: Pipe, radii: readonly number[], size: (mm: number) => string): Choice[] {
  const d = (radius: number) => dOfBend(radius, pipe.outsideDiameter)
  const own = radii.map((radius) => ({ id: String(radius), text: text.radiusItem(size(radius), d(radius)) }))
  if (radii.includes(pipe.bendRadius)) return own
  return [{ id: String(pipe.bendRadius), text: text.noDie(size(pipe.bendRadius), d(pipe.bendRadius)) }, ...own]
}
