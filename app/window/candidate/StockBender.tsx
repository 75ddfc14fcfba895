import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Bender, BenderTool } from '../../../core/bay/workshopSchema.ts'
import { candidateWords } from '../candidateWords.ts'
import { EditPicker } from '../editors/EditPicker.tsx'
import type { FigureSpec } from '../editors/figure.ts'
import { FigureField } from '../editors/FigureField.tsx'
import { useSteps } from '../editors/useSteps.tsx'
import { useWindow } from '../state/context.ts'
import { type FieldPath, withEntry, withField } from '../state/edit.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { addSpring, addTool, bentOtherwise } from './benderEdits.ts'
import { WordsField } from '../editors/WordsField.tsx'
import { figuresOf } from './stockFigures.ts'

const { stock: text } = candidateWords
const rotations = ['right-hand', 'left-hand'] as const

/** A bender with its tools: each bends one diameter on the dies that there are for it. */
export function StockBender({ bender, path }: { bender: Bender; path: FieldPath }) {
  const { go, told } = useSteps()
  const tools = [...path, 'tools']
  return (
    <>
      <EditPicker
        label={text.rotation}
        value={bender.rotation ?? 'right-hand'}
        choices={rotations.map((id) => ({ id, text: text.rotations[id] }))}
        step={(said) => `${bender.name}, ${text.rotation}: ${said}`}
        apply={(bay, id) => withField(bay, [...path, 'rotation'], id)}
      />
      {bender.tools.map((tool, k) => (
        // Tools have no name but their number.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        <Tool key={k} tool={tool} bender={bender} n={k} tools={tools} />
      ))}
      {told}
      <div className="candidate-tools">
        <Button
          className="small"
          onPress={() => go(`${bender.name}, ${text.addTool}`, (bay) => addTool(bay, tools, bender.tools.length))}
        >
          {text.addTool}
        </Button>
      </div>
    </>
  )
}

interface ToolProps {
  readonly tool: BenderTool
  readonly bender: Bender
  readonly n: number
  /** Of the bender's list of tools. */
  readonly tools: FieldPath
}

function Tool({ tool, bender, n, tools }: ToolProps) {
  const { go, told } = useSteps()
  const remove = useRemoval(go)
  const { radii, springBackOf: springs = [] } = tool
  const path = [...tools, n]
  const of = `${bender.name}, ${text.toolTitle(n + 1)}`
  const figure = figuresOf(of, path)
  const specs: readonly FigureSpec[] = [
    figure(words.field.outsideDiameter, ['outsideDiameter']),
    figure(text.grip, ['grip']),
    figure(text.leastStraight, ['leastStraight']),
    figure(text.leastEnd, ['leastEnd']),
    figure(text.bendsTo, ['largestAngle'], 'angle'),
    figure(text.elongation, ['elongation'], 'share', { otherwise: 0 }),
    figure(text.springBack, ['springBack'], 'share', { optional: true, emptyText: text.unknown }),
  ]
  return (
    <fieldset className="stock-tool">
      <legend>{text.toolTitle(n + 1)}</legend>
      <div className="figure-group">
        {specs.map((spec) => (
          <FigureField key={spec.path.join()} spec={spec} />
        ))}
      </div>
      <Rows title={text.dies}>
        {radii.map((_, i) => (
          <Row
            // biome-ignore lint/suspicious/noArrayIndexKey: dies are told apart by their place alone
            key={i}
            remove={text.removeDie(i + 1)}
            onRemove={() => remove(of, text.removeDie(i + 1), [...path, 'radii', i], radii.length < 2 && text.lastDie)}
          >
            <FigureField spec={figure(text.die(i + 1), ['radii', i])} />
          </Row>
        ))}
      </Rows>
      {springs.length > 0 && (
        <Rows title={text.springs}>
          {springs.map(({ material }, i) => (
            <Row
              // biome-ignore lint/suspicious/noArrayIndexKey: they are told apart by their place alone
              key={i}
              remove={text.removeSpring(i + 1)}
              onRemove={() =>
                remove(of, text.removeSpring(i + 1), [...path, 'springBackOf', ...(springs.length > 1 ? [i] : [])])
              }
            >
              <WordsField
                label={text.springMaterial(i + 1)}
                of={of}
                value={material}
                apply={(bay, next) => withField(bay, [...path, 'springBackOf', i, 'material'], next)}
              />
              <FigureField spec={figure(text.springBackOf(i + 1), ['springBackOf', i, 'share'], 'share')} />
            </Row>
          ))}
        </Rows>
      )}
      {told}
      <div className="candidate-tools">
        <Button
          className="small"
          onPress={() =>
            go(`${of}, ${text.addDie}`, (bay) => withEntry(bay, [...path, 'radii'], radii.length, radii.at(-1)))
          }
        >
          {text.addDie}
        </Button>
        <Button
          className="small"
          onPress={() =>
            go(`${of}, ${text.addSpring}`, (bay) =>
              addSpring(
                bay,
                [...path, 'springBackOf'],
                springs.map(({ material }) => material),
                tool.springBack,
              ),
            )
          }
        >
          {text.addSpring}
        </Button>
        <Button
          className="small"
          onPress={() => go(`${bender.name}, ${text.copyTool(n + 1)}`, (bay) => withEntry(bay, tools, n + 1, tool))}
        >
          {text.copyTool(n + 1)}
        </Button>
        <Button
          className="small"
          onPress={() => remove(bender.name, text.removeTool(n + 1), path, bender.tools.length < 2 && text.lastTool)}
        >
          {text.removeTool(n + 1)}
        </Button>
      </div>
    </fieldset>
  )
}

/** Takes something of the tooling out, unless a pipe is bent with it. `needed` may say already why it must stay. */
function useRemoval(go: ReturnType<typeof useSteps>['go']) {
  const bay = useWindow(bayOf)
  return (of: string, label: string, at: FieldPath, needed: string | false = false) => {
    const without = (whole: Bay) => withField(whole, at, undefined)
    const users = bay && !needed ? bentOtherwise(bay, without(bay)) : []
    go(`${of}, ${label}`, without, needed || (users.length > 0 ? text.toolNeeded(users) : null))
  }
}

function Rows({ title, children }: { title: string; children: ReactNode }) {
  return (
    <fieldset className="stock-rows">
      <legend>{title}</legend>
      {children}
    </fieldset>
  )
}

function Row({ remove, onRemove, children }: { remove: string; onRemove: () => void; children: ReactNode }) {
  return (
    <div className="stock-row">
      {children}
      <Button className="small" aria-label={remove} onPress={onRemove}>
        −
      </Button>
    </div>
  )
}
