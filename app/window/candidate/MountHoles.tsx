import { Button } from 'react-aria-components/Button'
import type { Mount, MountHole } from '../../../core/bay/mountSchema.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { candidateWords } from '../candidateWords.ts'
import { FigureField } from '../editors/FigureField.tsx'
import type { FigureSpec } from '../editors/figure.ts'
import { Picker } from '../editors/Picker.tsx'
import { useWindow } from '../state/context.ts'
import { fieldAt, withField } from '../state/edit.ts'
import { bayOf } from '../state/windowState.ts'
import { isOpenFixing } from './fixingEdits.ts'
import { addHole, removeHole, setMountFixing } from './mountEdits.ts'
import { useSteps } from '../editors/useSteps.tsx'

const { mount: text } = candidateWords

interface Props {
  readonly mount: Mount
  readonly index: number
  /** Its place among the candidate's mounts. */
  readonly nth: number
}

/** The holes of a bracket, each with the fixing that it goes onto; a pin has one fixing and no hole. */
export function MountHoles({ mount, index, nth }: Props) {
  const { go, told } = useSteps()
  const { shape, name, id } = mount
  if (shape.kind === 'pin') return <Onto mount={mount} index={index} hole={0} fixing={shape.fixing} />
  const holes = shape.holes ?? []
  return (
    <>
      {holes.map((hole, n) => (
        // Holes have no name but their number.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        <fieldset key={n} className="mount-hole">
          <legend>{text.hole(n + 1)}</legend>
          <Onto mount={mount} index={index} hole={n} fixing={hole.fixing} />
          <HoleFigures mount={mount} index={index} nth={nth} hole={hole} n={n} />
          {holes.length > 1 && (
            <Button
              className="small"
              onPress={() => go(`${name}, ${text.removeHole(n + 1)}`, (bay) => removeHole(bay, index, id, n))}
            >
              {text.removeHole(n + 1)}
            </Button>
          )}
        </fieldset>
      ))}
      {told}
      {holes.length === 0 && <p className="callout-note">{text.noHole}</p>}
      <div className="candidate-tools">
        <Button className="small" onPress={() => go(`${name}, ${text.addHole}`, (bay) => addHole(bay, index, id))}>
          {text.addHole}
        </Button>
      </div>
    </>
  )
}

/** Which fixing the hole, or the pin, goes onto. */
function Onto({ mount, index, hole, fixing }: { mount: Mount; index: number; hole: number; fixing?: string }) {
  const { go, told } = useSteps()
  const fixings = useWindow(bayOf)?.fixings ?? []
  return (
    <>
      <Picker
        label={text.fixing}
        value={fixing ?? ''}
        choices={fixings.map(({ id, name }) => ({ id, text: name }))}
        onChange={(id) =>
          go(`${mount.name}, ${text.fixing}: ${fixings.find((each) => each.id === id)?.name ?? id}`, (bay) =>
            setMountFixing(bay, index, mount.id, hole, id),
          )
        }
      />
      {told}
    </>
  )
}

function HoleFigures({ mount, index, nth, hole, n }: Props & { hole: MountHole; n: number }) {
  const kind = useWindow((state) => bayOf(state)?.fixings?.find(({ id }) => id === hole.fixing)?.kind)
  const base = ['candidates', index, 'mounts', nth, 'shape', 'holes', n]
  const of = `${mount.name}, ${text.hole(n + 1)}`
  const atOf = (bay: Bay) => (fieldAt(bay, [...base, 'at']) as MountHole['at']) ?? [0, 0]
  const specs: FigureSpec[] = [
    { of, label: text.slotWidth, path: [...base, 'diameter'], quantity: 'length' },
    {
      of,
      label: text.slot,
      path: [...base, 'length'],
      quantity: 'length',
      optional: true,
      emptyText: text.noSlot,
    },
    ...text.along.map(
      (label, k): FigureSpec => ({
        of,
        label,
        path: [...base, 'at', k],
        quantity: 'length',
        read: (bay) => atOf(bay)[k],
        apply: (bay, mm) =>
          withField(
            bay,
            [...base, 'at'],
            atOf(bay).map((before, i) => (i === k ? mm : before)),
          ),
      }),
    ),
  ]
  if (hole.length !== undefined)
    specs.push({ of, label: text.slotAngle, path: [...base, 'angle'], quantity: 'angle', otherwise: 0 })
  if (kind && isOpenFixing(kind)) specs.push({ of, label: text.bolt, path: [...base, 'bolt'], quantity: 'length' })
  return (
    <div className="figure-group">
      {specs.map((spec) => (
        <FigureField key={spec.path.join()} spec={spec} />
      ))}
    </div>
  )
}
