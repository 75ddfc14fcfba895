import type { Fixing, Mount } from '../../../core/bay/mountSchema.ts'
import { defaultUncertainty } from '../../../core/bay/defaults.ts'
import { candidateWords } from '../candidateWords.ts'
import type { FigureSpec } from '../editors/figure.ts'
import type { FigureGroup } from '../editors/specs.ts'
import type { FieldPath } from '../state/edit.ts'

const { mount: text, fixing: words } = candidateWords

const field =
  (of: string, base: FieldPath) =>
  (quantity: FigureSpec['quantity']) =>
  (label: string, path: FieldPath, more: Partial<FigureSpec> = {}): FigureSpec => ({
    of,
    label,
    path: [...base, ...path],
    quantity,
    ...more,
  })

/** Numbers of a mount, without those of its holes. */
export function mountGroups(index: number, nth: number, { name, shape }: Mount): FigureGroup[] {
  const of = field(name, ['candidates', index, 'mounts', nth])
  const [length, angle, share] = [of('length'), of('angle'), of('share')]
  const turn = angle(text.turn, ['shape', 'turn'], { otherwise: 0 })
  const side = (k: number) => length(text.sides[k], ['shape', 'size', k])
  const sizes: Record<Mount['shape']['kind'], () => FigureSpec[]> = {
    plate: () => [
      side(0),
      side(1),
      length(text.thickness, ['shape', 'thickness']),
      length(text.standOff, ['shape', 'standOff'], { otherwise: 0 }),
      turn,
    ],
    block: () => [side(0), side(1), side(2), turn],
    pin: () => [length(text.pinDiameter, ['shape', 'diameter']), length(text.pinLength, ['shape', 'length'])],
  }
  return [
    { figures: [share(text.u, ['on', 'u']), share(text.v, ['on', 'v'])] },
    { figures: [...sizes[shape.kind](), length(text.tolerance, ['tolerance'], { otherwise: 0 })] },
  ]
}

/** Numbers of a fixing on the car. */
export function fixingGroups(nth: number, fixing: Fixing): FigureGroup[] {
  const of = field(fixing.name, ['fixings', nth])
  const [length, share] = [of('length'), of('share')]
  const { kind, along, tool } = fixing
  const sizes = [
    length(words.diameter[kind], ['diameter']),
    ...(kind === 'slot' ? [length(words.length, ['length'])] : []),
    length(words.uncertainty, ['uncertainty'], { otherwise: defaultUncertainty }),
  ]
  const room = [length(words.toolDiameter, ['tool', 'diameter']), length(words.toolLength, ['tool', 'length'])]
  return [
    { title: words.place, figures: words.at.map((label, k) => length(label, ['at', k])), together: true },
    { title: words.points, figures: words.axis.map((label, k) => share(label, ['axis', k])), together: true },
    ...(kind === 'slot' && along
      ? [
          {
            title: words.runs,
            figures: words.along.map((label, k) => share(label, ['along', k])),
            together: true as const,
          },
        ]
      : []),
    { figures: [...sizes, ...(tool ? room : [])] },
  ]
}
