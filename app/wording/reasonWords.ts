import { printable } from '../../core/bay/printable.ts'
import type { PipeReason } from '../../core/pipe/answer.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import { jointSentences } from './jointWords.ts'
import { degrees, degreesUp, figuresIn, lack, percent, type Sentence } from './reasonFigures.ts'

/**
 * Why a pipe cannot be made, and what is to be watched, as sentences for the command line and the window alike: where,
 * what is wrong with figures that claim no more than is so, and what may be done.
 */
export function reasonText(reason: PipeReason, units: PeopleUnits): string {
  const said = sentences[reason.code]?.(reason, figuresIn(units)) ?? plainText(reason)
  const place = placeText(reason)
  return printable(`${place}${place === '' ? said[0].toUpperCase() + said.slice(1) : said}.`)
}

/** Whether a code has words of its own here. */
export const hasReasonWords = (code: string): boolean => Object.hasOwn(sentences, code)

/** Points count from the beginning, which is 0: corner 1 is the first one of the path. */
function placeText({ point, end }: PipeReason): string {
  if (end !== undefined) return end === 'from' ? 'At its beginning: ' : 'At its end: '
  return point === undefined ? '' : `Corner ${point}: `
}

const plainText = ({ code, expected, got }: PipeReason): string =>
  [code.replaceAll('-', ' '), expected !== undefined && `expected ${expected}`, got !== undefined && `found ${got}`]
    .filter((text) => text !== false)
    .join('; ')

const sentences: Record<string, Sentence> = {
  ...jointSentences,
  // The centreline itself
  'repeated-point': () => 'it lies where the point before it lies; take one of them out',
  'turns-back': () => 'the pipe turns back on itself; a turn of 180° takes two corners',
  'negative-straight': (reason, { much }) =>
    reason.end === undefined
      ? `its bend and the next one overlap by ${much(-Number(reason.got))}; put the corners further apart, or take a smaller radius`
      : `the bend begins ${much(-Number(reason.got))} beyond the tube’s end; put the corner further out, or take a smaller radius`,
  'bend-too-tight': ({ got, expected }, { size }) =>
    `a bend radius of ${size(got)} is less than half the tube, ${size(expected)}; take a larger one`,
  // The bender
  'no-tool': ({ of, got, expected }, { size, sizes }) =>
    `${of} has no tool for tube of ${size(got)}, only for ${sizes(expected)}; take another tube or bender`,
  'no-radius': ({ of, got, expected }, { size, sizes }) =>
    `${of} has no die for a radius of ${size(got)} on this tube, only for ${sizes(expected)}; take one of them`,
  'angle-too-large': ({ got, expected }) =>
    `bends by ${degreesUp(got)}, and the bender goes to ${degrees(expected)}; spread the turn over two corners`,
  'set-angle-too-large': ({ got, expected }) =>
    `has to be bent to ${degreesUp(got)} to spring back to its angle, and the bender goes to ${degrees(expected)}; spread the turn over two corners`,
  'short-between': (reason, { little, size, much }) =>
    `the straight to the next bend is ${little(reason.got)}, and the bender needs ${size(reason.expected)} to grip; put the corners ${much(lack(reason))} further apart`,
  'short-end': (reason, { little, size, much }) =>
    `the straight is ${little(reason.got)}, and the bender needs ${size(reason.expected)} at an end; put the corner ${much(lack(reason))} further out`,
  'short-at-weld': (reason, { little, size, much }) =>
    `the straight to the weld is ${little(reason.got)}, and the bender needs ${size(reason.expected)} at a tube’s end; put the corner ${much(lack(reason))} further from the elbow`,
  'elbow-angle': ({ of, got, expected }) =>
    `turns by ${degreesUp(got)}, and ${of} by ${degrees(expected)}: it can be cut down, not added to`,
  'port-behind': ({ got }) =>
    `the pipe leaves its port backwards, ${degrees(got)} off the way that the port faces; put the next corner in front of the port`,
  // To be watched, or not known
  'no-bender': () => 'no bender in the bay, so nothing is said of radii, grips and angles',
  'no-spring-back': ({ of }) => `${of} names no spring-back for this tube: angles are as bent, not as set`,
  'no-elongation': ({ of }) => `${of} names no elongation, so the cut length is the developed length`,
  'outside-stretches': ({ got }) =>
    `the outside of its bends stretches by up to ${percent(got)}; see that tube and bender take it`,
  'outside-thins': ({ expected, got }, { size, little }) =>
    `the wall of ${size(expected)} may thin to as little as ${little(got)} on the outside of its bends; less where the tube is pushed along`,
  // Flow
  'flow-laminar-bends': ({ got }) => `the flow is laminar (Re ${figures2(got)}), where bends are not well known`,
  'flow-between': ({ got, expected }) =>
    `the flow is between laminar and turbulent (Re ${figures2(got)}, turbulent from ${figures2(expected)}): losses may lie outside the band`,
  'flow-below-bends': ({ got, expected }) =>
    `the losses of bends are made for Re ${figures2(expected)} and more, and here it is ${figures2(got)}`,
  'flow-bend-ratio': ({ got }) =>
    `bend radius over bore is ${figures2(got)}, beyond what the losses of bends are made for`,
  'flow-fast': ({ got }) => `at Mach ${figures2(got)} the air is no longer of one density: losses are higher than told`,
  'flow-density': ({ got }) =>
    `the loss is ${percent(got)} of the pressure, so the density changes along the pipe: losses are higher than told`,
  'flow-rough': ({ got }) => `roughness over bore is ${figures2(got)}, more than the friction formulas are made for`,
}

/** Two figures. */
const figures2 = (value: unknown): string => Number(Number(value).toPrecision(2)).toLocaleString('en')
