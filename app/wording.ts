import { printable } from '../core/bay/printable.ts'
import type { Fault } from '../core/fault.ts'
import { hasReasonWords } from './wording/reasonWords.ts'

/**
 * Faults as sentences, for the command line and the window alike:
 * `tarnbeck.bay.json, line 41, column 9: keepOuts[2] (lamp-left), shape.points: expected at least 4; found 3.`
 * Everything that came out of a file is made harmless first: it cannot steer a terminal or turn a line round.
 */
export function faultText(fault: Fault): string {
  return printable([...whereText(fault), whatText(fault)].join(': '))
}

/** All faults of one failure, a sentence each. */
export const faultTexts = (faults: readonly Fault[]): string[] => faults.map(faultText)

/** File and line, then the place in the file. */
function whereText({ file, line, column, item, field }: Fault): string[] {
  const position = line === undefined ? '' : `, line ${line}${column === undefined ? '' : `, column ${column}`}`
  const head = file === undefined ? position.slice(2) : file + position
  const place = placeText(item, field)
  return [head, place].filter((text) => text !== '')
}

/** `keepOuts[2] (lamp-left), shape.points`: the item's id stands behind the list entry that it belongs to. */
function placeText(item: string | undefined, field: string | undefined): string {
  if (field === undefined) return item ?? ''
  if (item === undefined) return field
  // The id is that of the innermost item on the way, so it stands behind the last list entry that can hold one.
  const entry =
    /^(?:.*\.)?(?:keepOuts|openings|ports|fixings|candidates|pipes|mounts|benders|stock\.(?:tubes|elbows|couplers|clamps))\[\d+\]/.exec(
      field,
    )?.[0]
  if (entry === undefined) return `${item}, ${field}`
  const rest = field.slice(entry.length).replace(/^\./, '')
  return rest === '' ? `${entry} (${item})` : `${entry} (${item}), ${rest}`
}

function whatText(fault: Fault): string {
  const { nearest } = fault
  const lead = leads[fault.code]
  const said =
    lead === undefined ? plainText(fault) : typeof lead === 'function' ? lead(fault) : joined(lead, expectedText(fault))
  return nearest === undefined ? `${said}.` : `${said}. Did you mean ${nearest}?`
}

/** For a code that has no words of its own: the code itself, so that nothing is hidden, and all that is known. */
const plainText = (fault: Fault): string => joined(fault.code.replaceAll('-', ' '), expectedText(fault))

const joined = (lead: string, tail: string): string => [lead, tail].filter((text) => text !== '').join('; ')

function expectedText(fault: Fault): string {
  const expected = fault.expected === undefined ? '' : `expected ${fault.expected}`
  const found = 'got' in fault && fault.got !== undefined ? `found ${gotText(fault)}` : ''
  return [expected, found].filter((text) => text !== '').join('; ')
}

/** A value from a file is shown as written there (text in quotes); what a reader found is already in words. */
function gotText({ code, got }: Fault): string {
  if (typeof got === 'string' && (inWords.test(code) || /^(a list of \d+|an object)$/.test(got))) return got
  return typeof got === 'string' ? JSON.stringify(got) : (JSON.stringify(got) ?? String(got))
}
const inWords =
  /^(mesh-(?!outside-folder|missing)|gzip-|broken-json|nested|too-many-values|file-|bay-too|planar-|unprintable|usage-)/

/** A number or list that a fault's `got` object holds; core puts figures there that a sentence can use. */
const part = (got: unknown, name: string): unknown =>
  typeof got === 'object' && got !== null ? (got as Record<string, unknown>)[name] : undefined
const listPart = (got: unknown, name: string): readonly unknown[] => {
  const list = part(got, name)
  return Array.isArray(list) ? list : []
}
/** `[0]–[1]`: an edge by its corners, numbered as in the file's list. */
const edgeText = (edge: unknown): string => (Array.isArray(edge) ? edge.map((corner) => `[${corner}]`).join('–') : '?')

/** Core counts from 0, people from 1. */
const vertexNumber = (got: unknown): number => Number(part(got, 'vertex')) + 1

/** Three figures: enough to see what is wrong. */
const small = (x: unknown): string => (typeof x === 'number' ? String(Number(x.toPrecision(3))) : '?')

type Lead = string | ((fault: Fault) => string)

/** Words before "expected …; found …", or the whole sentence where that form would read badly. */
const leads: Record<string, Lead> = {
  // The file as a whole
  'broken-json': 'this is not JSON',
  'nested-too-deep': 'lists and objects lie too deep in each other',
  'too-many-values': 'more values than a bay has',
  'bay-too-big': 'too big for a bay',
  'not-a-bay': 'this is not a bay file',
  'wrong-version': 'no version of a bay file',
  'bay-too-new': ({ got, expected }) =>
    `written by a newer program (version ${got}); this one reads ${expected} and guesses nothing`,
  'more-faults': ({ got }) => `and ${got} more faults`,
  // Fields and values
  'unknown-field': (fault) =>
    fault.nearest === undefined ? joined('no such field', expectedText({ ...fault, got: undefined })) : 'no such field',
  'missing-field': 'missing',
  'wrong-type': '',
  'wrong-value': '',
  'wrong-count': '',
  'wrong-format': '',
  'empty-text': 'empty',
  'too-few': '',
  'too-many': '',
  'too-long': '',
  'too-small': '',
  'too-large': '',
  'not-finite': 'not a finite number',
  'number-too-large': 'too large for a number',
  'duplicate-field': 'given twice',
  'duplicate-id': 'used twice',
  'mirror-id-taken': 'the mirror image’s id is taken',
  'unprintable-text': 'unprintable text',
  // Sense of a bay
  'unknown-port': 'no such port',
  'unknown-keep-out': 'no such keep-out',
  'unknown-bender': 'no such bender',
  'unknown-candidate': 'no such candidate',
  'unknown-pipe': 'no such pipe',
  'no-pipe': 'nothing to route',
  'no-candidate': 'nothing to check',
  'unknown-pair': 'no such row in the ledger',
  'unknown-stock': 'not in stock',
  'stock-differs': 'not the size that is in stock',
  'no-such-corner': 'no such corner in the path',
  'duplicate-corner': 'two elbows in one corner',
  'insertion-too-deep': 'two tubes cannot both go in so far',
  'hump-too-long': 'the hump is longer than its coupler',
  'hump-too-thin': 'the hump does not stand off the hose',
  'gap-over-length': 'the coupler does not reach from tube to tube',
  'gap-in-elbow': 'an elbow has no gap to choose',
  'duplicate-material': 'a material comes twice',
  'unknown-fixing': 'no such fixing',
  'unknown-part': 'no such part',
  'mount-without-fixing': 'a mount that is fixed to nothing',
  'pin-on-solid': 'a pin goes into nothing there',
  'bolt-missing': 'nothing goes through the hole',
  'bolt-too-many': 'one fastener for one hole',
  'hole-off-plate': 'the hole leaves its plate',
  'not-a-slot': 'only a slot has this',
  'slot-too-short': 'shorter than wide',
  'slot-along-axis': 'the slot runs along its own axis',
  'same-port': 'the pipe ends where it begins',
  'wall-too-thick': 'the wall is too thick for the diameter',
  'min-over-max': 'the least is above the most',
  'tilt-too-large': '',
  'must-stay': 'safety parts and lamps stay while the part is offered up',
  'foot-not-positive': 'nothing is left of the tank’s foot',
  'points-inward': 'points into the tank',
  // Largest core and best place
  'limits-contradict': 'the limits leave no size',
  'unlimited-direction': 'no end in this direction',
  'no-size-left': 'the limits leave no size',
  'region-empty': 'the region for the centre is empty',
  'no-keep-out': 'nothing to keep away from: every place is as good',
  'centre-out-of-reach': 'the region for the centre is out of reach',
  'tilt-range': '',
  // Offering up
  'need-out-of-range': '',
  'nothing-stays': 'nothing stays that the part could meet',
  'zero-axis': 'no axis to turn about',
  'moves-miss-seat': ({ got }) =>
    `the moves end ${small(part(got, 'millimetres'))} mm and ${small(part(got, 'degrees'))}° from the seat`,
  'start-inside-bay': 'the part begins among the keep-outs',
  // Bend tables
  'bend-angle': '',
  'no-leg': 'the bends before and after leave nothing of this straight',
  'radii-differ': 'a pipe has one bend radius',
  'csv-quotes': 'a quote is missing or stands where none can be',
  'csv-no-table': 'no table',
  'csv-no-rows': 'nothing of this pipe in the table',
  'csv-column': 'no such column',
  'csv-column-twice': 'a column comes twice',
  'csv-column-missing': 'a column is missing',
  'csv-unit': 'no such unit here',
  'csv-too-many-cells': 'more cells than the head has',
  // Shapes
  'too-few-points': '',
  'repeated-point': 'a point comes twice',
  'zero-vector': 'no direction',
  'zero-length': 'no length',
  'zero-area': 'no area',
  'planar-hull': ({ expected, got }) =>
    `all ${part(got, 'points')} points lie in a plane, within ${small(part(got, 'thickness'))} mm; expected ${expected}`,
  'points-in-line': ({ expected, got }) => `the points lie on one line, within ${small(got)} mm; expected ${expected}`,
  'self-crossing': ({ expected, got }) =>
    `the edges ${listPart(got, 'edges').map(edgeText).join(' and ')} cross or touch; expected ${expected}`,
  'turns-back': 'the path turns back on itself',
  'path-out-of-plane': ({ expected, got }) => `the path leaves its plane by ${small(got)} mm; expected ${expected}`,
  'mitre-overruns': ({ expected, got }) =>
    `the leg after path[${part(got, 'leg')}] is ${small(part(got, 'missing'))} mm too short for its mitres; expected ${expected}`,
  'straight-too-short': ({ got }) =>
    `the straight ${part(got, 'side') ?? 'beside'} this point is ${small(part(got, 'straight'))} mm, ${small(part(got, 'missing'))} mm too short for the bends at its ends`,
  'bend-too-tight': 'the bend is tighter than the pipe is thick',
  'too-many-pieces': 'too many pieces',
  'tank-length': 'the tank is too short',
  'tank-foot': 'the tank’s foot is too small',
  'tank-end': 'the tank’s far end is too small',
  'empty-solid': 'a solid of nothing',
  // Lengths and angles as typed
  'no-length': 'no length',
  'not-a-length': 'not a length',
  'ambiguous-length': 'can be read in two ways',
  'zero-denominator': 'a fraction of nothing',
  'length-too-large': 'too long',
  'not-a-number': 'not a number',
  'no-angle': 'no angle',
  'not-an-angle': 'not an angle',
  'angle-too-large': 'too large an angle',
  // Meshes
  'mesh-missing': 'the mesh is not there',
  'mesh-differs': 'another mesh of that name lies there',
  'mesh-outside-folder': 'a mesh must lie in the bay’s folder',
  'mesh-empty-file': 'the file is empty',
  'mesh-too-big': 'too big',
  'mesh-too-many-triangles': 'too many triangles',
  'mesh-too-many-vertices': 'too many vertices',
  'mesh-no-memory': 'not enough memory for this mesh',
  'mesh-no-triangles': 'nothing in it that has a surface',
  'mesh-format-unknown': 'not a mesh format that is read here',
  'mesh-format-mismatch': 'the content is not what the name says',
  'mesh-truncated': 'the file is cut off',
  'mesh-lying-header': 'the header disagrees with the file',
  'mesh-syntax': '',
  'mesh-unsupported': 'this is not read here',
  'mesh-external': 'points to another file, which is never read',
  'mesh-not-finite': '',
  'mesh-bad-index': 'no such vertex',
  'mesh-face-crosses-itself': ({ expected }) => `crosses itself; expected ${expected}`,
  'gzip-broken': 'damaged gzip data',
  'gzip-too-big': 'inflates beyond the limit',
  'mesh-empty': ({ expected, got }) =>
    `nothing in it that has a surface; expected ${expected}; found ${typeof got === 'object' ? `${part(got, 'triangles')} of no area` : 'none'}`,
  'incomplete-triangle': 'an incomplete triangle',
  'too-many-triangles': 'too many triangles',
  'index-out-of-range': 'no such vertex',
  'coordinate-too-large': ({ expected, got }) =>
    `a coordinate far outside any car; expected ${expected}; found ${small(Number(part(got, 'value')))} at vertex ${vertexNumber(got)}`,
  'mesh-too-large': 'far larger than any car; is the unit right?',
  // Files
  'file-missing': 'there is no such file',
  'file-unreadable': 'cannot be read',
  'file-unwritable': 'cannot be written',
  'folder-not-empty': 'this folder holds something',
  'pdf-not-ours': 'this is no set of sheets',
  'attachment-missing': 'not inside the PDF',
  'file-exists': ({ expected }) => `is there already; ${expected}`,
  'file-too-big': 'too big',
  'file-not-text': 'not text in UTF-8',
  'changed-outside': 'changed on the disk by another program since it was opened',
  'file-gone': 'no longer where it was',
  'no-place': 'in no file yet',
  'journal-unwritable': 'unsaved work cannot be kept aside',
  'work-gone': 'the work that was kept aside is gone',
  // Window and its program
  'unknown-token': 'this bay is not open any more',
  'server-gone': 'the program behind the window has ended',
  'server-refused': 'the program behind the window refused',
  'call-refused': 'the program behind the window refused',
  'print-refused':
    'the browser opens no tab for it: allow this page to open one, or save the PDF and print it from there',
  'search-broke': ({ got }) => `the search stopped by itself (${got})`,
  'search-stopped': 'the search was ended; this browser keeps nothing of it',
  // Usage
  'usage-bad-value': '',
}

/** Whether a code has words of its own, as a fault or as what is wrong with a pipe. */
export const hasWords = (code: string): boolean => Object.hasOwn(leads, code) || hasReasonWords(code)
