import type { Bay, Candidate, Limits } from '../../../core/bay/schema.ts'
import type { Side } from '../../../core/bay/tankPort.ts'
import { askedBy } from '../../../core/bay/defaults.ts'
import type { FieldPath } from '../state/edit.ts'
import { words } from '../words.ts'
import type { FigureSpec } from './figure.ts'
import type { Quantity } from './quantity.ts'

/** Numbers of one item, in rows as they stand in the editor. */
export interface FigureGroup {
  readonly title?: string
  readonly figures: readonly FigureSpec[]
  /** They are one point or direction: see `Together`. */
  readonly together?: true
}

const { field, part } = words

const figures = (of: string, base: FieldPath) => {
  const one =
    (quantity: Quantity) =>
    (label: string, path: FieldPath, more: Partial<FigureSpec> = {}): FigureSpec => ({
      of,
      label,
      path: [...base, ...path],
      quantity,
      ...more,
    })
  return { length: one('length'), angle: one('angle'), share: one('share') }
}

export function placeGroups(index: number): FigureGroup[] {
  const { length, angle } = figures(part.place, ['candidates', index])
  return [
    {
      title: field.middle,
      figures: [field.x, field.y, field.z].map((label, k) => length(label, ['at', k])),
      together: true,
    },
    {
      title: field.turn,
      figures: [field.turnX, field.turnY, field.turnZ].map((label, k) => angle(label, ['turn', k])),
      together: true,
    },
  ]
}

export function coreGroups(index: number): FigureGroup[] {
  const { length } = figures(part.core, ['candidates', index, 'core'])
  return [
    {
      figures: [
        length(field.depth, ['depth']),
        length(field.width, ['width']),
        length(field.height, ['height']),
        length(field.tolerance, ['tolerance'], { otherwise: 0 }),
      ],
    },
  ]
}

/** Sizes of a tank, and how far it stands over the core all round. */
export function tankGroups(index: number, side: Side): FigureGroup[] {
  const { length } = figures(part.tank[side], ['candidates', index, 'tanks', side])
  return [
    { figures: [length(field.length, ['length']), length(field.tolerance, ['tolerance'], { otherwise: 0 })] },
    {
      title: field.overhangs,
      figures: [
        length(field.front, ['front']),
        length(field.rear, ['rear']),
        length(field.below, ['below']),
        length(field.above, ['above']),
      ],
    },
  ]
}

/** How much of its depth and height a tapered tank keeps at its end. */
export function taperGroups(index: number, side: Side): FigureGroup[] {
  const { share } = figures(part.tank[side], ['candidates', index, 'tanks', side, 'taper'])
  return [{ title: field.taper, figures: [share(field.taperDepth, ['depth']), share(field.taperHeight, ['height'])] }]
}

/** Where a stub sits on its face, and its sizes. @param nth its place among the tank's stubs */
export function stubGroups(index: number, side: Side, nth: number, of: string): FigureGroup[] {
  const { length, share } = figures(of, ['candidates', index, 'tanks', side, 'ports', nth])
  return [
    {
      figures: [
        share(field.u, ['u']),
        share(field.v, ['v']),
        length(field.outsideDiameter, ['outsideDiameter']),
        length(field.stubLength, ['length']),
      ],
    },
  ]
}

export function limitGroups(index: number, limits: Limits | undefined): FigureGroup[] {
  const base: FieldPath = ['candidates', index, 'limits']
  const { length, angle } = figures(part.limits, base)
  const range = (name: 'depth' | 'width' | 'height', title: string): FigureGroup => ({
    title,
    figures: [
      length(`${title} ${field.min}`, [name, 'min'], { optional: true }),
      length(`${title} ${field.max}`, [name, 'max'], { optional: true }),
      ...(name === 'height'
        ? [
            length(field.pitch, [name, 'pitch'], { optional: true }),
            length(field.offset, [name, 'offset'], { optional: true }),
          ]
        : []),
      ...(limits?.[name]?.stock ?? []).map((_, i) => length(`${title} ${field.stock} ${i + 1}`, [name, 'stock', i])),
    ],
  })
  const tilt: FigureGroup = {
    title: field.tilt,
    figures: [
      angle(`${field.tilt} ${field.min}`, ['tilt', 'min']),
      angle(`${field.tilt} ${field.max}`, ['tilt', 'max']),
    ],
  }
  const centre = (end: 'min' | 'max'): FigureGroup => ({
    title: `${field.centre} ${field[end]}`,
    figures: [field.x, field.y, field.z].map((label, k) => length(label, ['centre', end, k])),
    together: true,
  })
  return [
    range('depth', field.depth),
    range('width', field.width),
    range('height', field.height),
    ...(limits?.tilt ? [tilt] : []),
    ...(limits?.centre ? [centre('min'), centre('max')] : []),
  ]
}

/** Clearance and uncertainty of a keep-out; empty, the role's default holds. */
export function keepOutGroups(bay: Bay, index: number): FigureGroup[] {
  const { name, role } = bay.keepOuts[index]
  const { length } = figures(name, ['keepOuts', index])
  const { required, uncertainty } = askedBy({ role })
  return [
    {
      figures: [
        length(words.keepOut.clearance, ['clearance'], { otherwise: required }),
        length(words.keepOut.uncertainty, ['uncertainty'], { otherwise: uncertainty }),
      ],
    },
  ]
}

/** Items of a candidate that can be opened, in the order of the list. */
export function itemsOf(candidate: Candidate): string[] {
  return [
    'place',
    'core',
    ...(candidate.tanks?.left ? ['tank-left'] : []),
    ...(candidate.tanks?.right ? ['tank-right'] : []),
    'pipes',
    'limits',
  ]
}

/** The item in which a part's numbers stand: a stub's are those of its tank. */
export function itemOfPart(partName: string): string {
  const stub = /^stub-(left|right)-/.exec(partName)
  return stub ? `tank-${stub[1]}` : partName
}
