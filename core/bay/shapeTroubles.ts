import type { Fault } from '../fault.ts'
import { formsOf } from '../shape/registry.ts'
import { readSection } from '../shape/section.ts'
import type { Entry } from './bayView.ts'
import type { Path } from './jsonText.ts'
import type { KeepOut, Opening } from './schema.ts'
import type { Trouble } from './trouble.ts'

/** What keeps a shape from being a solid: planar hulls, sections that cross themselves, corners that cannot be rounded … Meshes are left to the one who reads their files. */
export function shapeTroubles({ path, item }: Entry<KeepOut>): Trouble[] {
  if (item.shape.kind === 'mesh') return []
  const forms = formsOf(item.shape, { meshes: new Map() })
  return forms.ok ? [] : forms.faults.map((fault) => troubleOf(fault, path))
}

/** What keeps an opening's outline from enclosing an area: the same rules as for the section of a sweep. */
export function outlineTroubles({ path, item }: Entry<Opening>): Trouble[] {
  const section = readSection(item.outline, 'outline')
  return section.ok ? [] : section.faults.map((fault) => troubleOf(fault, path))
}

/** A fault of a lower layer, with its field below the given path. */
export function troubleOf({ code, expected, field, got }: Fault, path: Path): Trouble {
  return {
    code,
    path: [...path, ...pathOf(field ?? '')],
    ...(expected !== undefined && { expected }),
    ...(got !== undefined && { got: foundIn(got) }),
  }
}

/** `shape.path[2]` as steps. */
function pathOf(field: string): Path {
  return [...field.matchAll(/\[(\d+)\]|([^.[\]]+)/g)].map(([, index, name]) =>
    index === undefined ? name : Number(index),
  )
}

/** Some faults tell more than can be printed; of a straight that is too short, its place, length and what is missing. */
function foundIn(got: unknown): unknown {
  if (typeof got !== 'object' || got === null || !('straight' in got && 'missing' in got)) return got
  return {
    ...('side' in got && { side: got.side }),
    straight: sixFigures(got.straight),
    missing: sixFigures(got.missing),
  }
}

const sixFigures = (x: unknown): unknown => (typeof x === 'number' ? Number(x.toPrecision(6)) : x)
