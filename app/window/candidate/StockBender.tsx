import { Button } from 'react-aria-components/Button'
import type { Bender, BenderTool } from '../../../core/bay/workshopSchema.ts'
import { candidateWords } from '../candidateWords.ts'
import { FigureField } from '../editors/FigureField.tsx'
import type { FigureSpec } from '../editors/figure.ts'
import { Picker } from '../editors/Picker.tsx'
import { useHere } from '../state/context.ts'
import { type FieldPath, withEntry, withField } from '../state/edit.ts'
import { words } from '../words.ts'
import { step } from './doing.ts'
import { NameField } from './NameField.tsx'
import { figuresOf } from './stockFigures.ts'

const { stock: text } = candidateWords
const rotations = ['right-hand', 'left-hand'] as const

/** A bender with its tools: each bends one diameter on the dies that there are for it. */
export function StockBender({ bender, path }: { bender: Bender; path: FieldPath }) {
  const { room } = useHere()
  const tools = [...path, 'tools']
  const add = () =>
    step(room.store, `${bender.name}, ${text.addTool}`, (bay) =>
      withEntry(bay, tools, bender.tools.length, bender.tools.at(-1)),
    )
  return (
    <>
      <Picker
        label={text.rotation}
        value={bender.rotation ?? 'right-hand'}
        choices={rotations.map((id) => ({ id, text: text.rotations[id] }))}
        onChange={(id) =>
          step(room.store, `${bender.name}, ${text.rotation}: ${text.rotations[id as 'left-hand']}`, (bay) =>
            withField(bay, [...path, 'rotation'], id),
          )
        }
      />
      {bender.tools.map((tool, k) => (
        <Tool
          // Tools have no name but their number.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={k}
          tool={tool}
          of={`${bender.name}, ${text.toolTitle(k + 1)}`}
          title={text.toolTitle(k + 1)}
          path={[...tools, k]}
          remove={bender.tools.length > 1 ? text.removeTool(k + 1) : null}
        />
      ))}
      <div className="candidate-tools">
        <Button className="small" onPress={add}>
          {text.addTool}
        </Button>
      </div>
    </>
  )
}

interface ToolProps {
  readonly tool: BenderTool
  readonly of: string
  readonly title: string
  readonly path: FieldPath
  /** Said on the button that takes it out; a bender keeps its last tool. */
  readonly remove: string | null
}

function Tool({ tool, of, title, path, remove }: ToolProps) {
  const figure = figuresOf(of, path)
  const unknown = { optional: true, emptyText: text.unknown }
  const specs: readonly FigureSpec[] = [
    figure(words.field.outsideDiameter, ['outsideDiameter']),
    ...tool.radii.map((_, i) => figure(text.die(i + 1), ['radii', i])),
    figure(text.grip, ['grip']),
    figure(text.leastStraight, ['leastStraight']),
    figure(text.leastEnd, ['leastEnd']),
    figure(text.bendsTo, ['largestAngle'], 'angle'),
    figure(text.elongation, ['elongation'], 'share', { otherwise: 0 }),
    figure(text.springBack, ['springBack'], 'share', unknown),
  ]
  return (
    <fieldset className="stock-tool">
      <legend>{title}</legend>
      <div className="figure-group">
        {specs.map((spec) => (
          <FigureField key={spec.path.join()} spec={spec} />
        ))}
        {(tool.springBackOf ?? []).map(({ material }, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: they are told apart by their place alone
          <Spring key={i} n={i} of={of} material={material} path={[...path, 'springBackOf', i]} />
        ))}
      </div>
      <ToolButtons tool={tool} of={of} path={path} remove={remove} />
    </fieldset>
  )
}

/** How far one material springs back. */
function Spring({ n, of, material, path }: { n: number; of: string; material: string; path: FieldPath }) {
  return (
    <>
      <NameField
        label={text.springMaterial(n + 1)}
        of={of}
        value={material}
        apply={(bay, next) => withField(bay, [...path, 'material'], next)}
      />
      <FigureField spec={figuresOf(of, path)(text.springBackOf(n + 1), ['share'], 'share')} />
    </>
  )
}

/** Adds to the lists of a tool and takes their last entries out, or the whole tool. */
function ToolButtons({ tool, of, path, remove }: Omit<ToolProps, 'title'>) {
  const { room } = useHere()
  const { radii, springBackOf: springs = [] } = tool
  const fresh = { material: text.firstMaterial, share: tool.springBack ?? 0.02 }
  const add = (label: string, field: string, entry: unknown, at: number) => ({
    label,
    go: () => step(room.store, `${of}, ${label}`, (bay) => withEntry(bay, [...path, field], at, entry)),
  })
  const drop = (label: string, at: FieldPath) => ({
    label,
    go: () => step(room.store, `${of}, ${label}`, (bay) => withField(bay, [...path, ...at], undefined)),
  })
  const buttons = [
    add(text.addDie, 'radii', radii[radii.length - 1], radii.length),
    ...(radii.length > 1 ? [drop(text.removeDie(radii.length), ['radii', radii.length - 1])] : []),
    add(text.addSpring, 'springBackOf', fresh, springs.length),
    ...(springs.length > 0
      ? [
          drop(
            text.removeSpring(springs.length),
            springs.length > 1 ? ['springBackOf', springs.length - 1] : ['springBackOf'],
          ),
        ]
      : []),
    ...(remove === null ? [] : [drop(remove, [])]),
  ]
  return (
    <div className="candidate-tools">
      {buttons.map(({ label, go }) => (
        <Button key={label} className="small" onPress={go}>
          {label}
        </Button>
      ))}
    </div>
  )
}
