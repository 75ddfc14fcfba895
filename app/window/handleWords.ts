import type { Face, GripGroup, GripWhat } from '../../core/bay/grips/grip.ts'
import { words } from './words.ts'

const axis = ['X', 'Y', 'Z'] as const

const faces: Record<Face, string> = {
  front: 'front face',
  rear: 'rear face',
  left: 'left face',
  right: 'right face',
  below: 'lower face',
  above: 'upper face',
}
/** A core's sizes, by the faces that set them. */
const coreSizes: Record<Face, string> = {
  front: 'depth',
  rear: 'depth',
  left: 'width',
  right: 'width',
  below: 'height',
  above: 'height',
}

/** What a grip is called: on the handle, and in the names of steps. */
function gripName(thing: string, what: GripWhat, isCore: boolean): string {
  switch (what.kind) {
    case 'place':
      return `${thing}, place`
    case 'along':
      return `${thing}, along ${axis[what.axis]}`
    case 'turn':
      return `${thing}, turn about ${axis[what.axis]}`
    case 'face':
      return isCore ? `${thing}, ${faces[what.face]}, ${coreSizes[what.face]}` : `${thing}, ${faces[what.face]}`
    case 'tank':
      return `${words.part.tank[what.side]}, length`
    case 'point':
      return `${thing}, point ${what.number + 1}`
    case 'end':
      return `${thing}, ${what.end === 'from' ? 'first' : 'second'} end`
    case 'radius':
      return `${thing}, radius`
    case 'normal':
      return `${thing}, along its normal`
  }
}

/** Sentences of the handles in the drawing. */
export const handleWords = {
  layer: (thing: string) => `Handles of ${thing}`,
  groups: { move: 'Move', turn: 'Turn', size: 'Sizes', points: 'Points' } satisfies Record<GripGroup, string>,
  role: 'handle',
  keys: 'Arrow keys step, with Shift farther, with Alt finer; Page up and Page down move along the third axis. Type a number to set it. Control with an arrow key, Home and End go to the other handles of the group. While dragging, Alt lets go of what it snaps to, Shift keeps to one axis, Escape takes it back.',
  name: gripName,
  at: (name: string, place: string) => `${name}, at ${place}`,
  degrees: (angle: string) => `${angle}°`,
  /** "12 mm rearward": an axis, and whether towards its positive end. */
  way: (length: string, along: 0 | 1 | 2, forth: boolean) => `${length} ${words.ways[along][forth ? 1 : 0]}`,
  moved: (thing: string, ways: readonly string[]) => `${thing} moved ${ways.join(', ')}`,
  movedOut: (thing: string, length: string, out: boolean) => `${thing} moved ${length} ${out ? 'outwards' : 'inwards'}`,
  set: (name: string, value: string) => `${name}: ${value}`,
  snapped: {
    rows: (n: number) => words.counted(n, 'row'),
    stock: 'a stock size',
    gap: (keepOut: string) => `just clears ${keepOut}`,
  },
  entry: {
    label: (name: string) => `Set ${name}`,
    axes: axis,
    set: 'Set',
  },
}
