import { describe, expect, test } from 'vitest'
import type { PipeReason } from '../../core/pipe/answer.ts'
import { reasonText } from './reasonWords.ts'

describe('what the bender refuses, in words', () => {
  test('in millimetres', () => {
    expect(bender.map((reason) => reasonText(reason, 'mm'))).toMatchInlineSnapshot(`
      [
        "Shop bender has no tool for tube of 60.00 mm, only for 57.00 mm and 63.50 mm; take another tube or bender.",
        "Corner 1: Shop bender has no die for a radius of 60.00 mm on this tube, only for 57.00 mm and 85.50 mm; take one of them.",
        "Corner 1: the straight to the next bend is 40.00 mm, and the bender needs 45.00 mm to grip; put the corners 5.00 mm further apart.",
        "At its beginning: the straight is 20.00 mm, and the bender needs 35.00 mm at an end; put the corner 15.00 mm further out.",
        "Corner 2: the straight to the weld is 20.00 mm, and the bender needs 35.00 mm at a tube’s end; put the corner 15.00 mm further from the elbow.",
        "Corner 1: its bend and the next one overlap by 30.00 mm; put the corners further apart, or take a smaller radius.",
        "At its end: the bend begins 5.00 mm beyond the tube’s end; put the corner further out, or take a smaller radius.",
        "Corner 1: a bend radius of 28.00 mm is less than half the tube, 28.50 mm; take a larger one.",
        "Corner 3: bends by 135°, and the bender goes to 120°; spread the turn over two corners.",
        "Corner 3: has to be bent to 122.45° to spring back to its angle, and the bender goes to 120°; spread the turn over two corners.",
        "Corner 1: turns by 90°, and Cast elbow by 60°: it can be cut down, not added to.",
        "Corner 2: it lies where the point before it lies; take one of them out.",
        "Corner 1: the pipe turns back on itself; a turn of 180° takes two corners.",
        "At its end: the pipe leaves its port backwards, 170.25° off the way that the port faces; put the next corner in front of the port.",
      ]
    `)
  })

  test('in inches', () => {
    expect(bender.slice(0, 7).map((reason) => reasonText(reason, 'inch'))).toMatchInlineSnapshot(`
      [
        "Shop bender has no tool for tube of 2.362″, only for 2.244″ and 2.500″; take another tube or bender.",
        "Corner 1: Shop bender has no die for a radius of 2.362″ on this tube, only for 2.244″ and 3.366″; take one of them.",
        "Corner 1: the straight to the next bend is 1.574″, and the bender needs 1.772″ to grip; put the corners 0.197″ further apart.",
        "At its beginning: the straight is 0.787″, and the bender needs 1.378″ at an end; put the corner 0.591″ further out.",
        "Corner 2: the straight to the weld is 0.787″, and the bender needs 1.378″ at a tube’s end; put the corner 0.591″ further from the elbow.",
        "Corner 1: its bend and the next one overlap by 1.182″; put the corners further apart, or take a smaller radius.",
        "At its end: the bend begins 0.197″ beyond the tube’s end; put the corner further out, or take a smaller radius.",
      ]
    `)
  })
})

test('what is known only roughly, in words', () => {
  expect(notes.map((reason) => reasonText(reason, 'mm'))).toMatchInlineSnapshot(`
    [
      "No bender in the bay, so nothing is said of radii, grips and angles.",
      "Shop bender names no spring-back for this tube: angles are as bent, not as set.",
      "Shop bender names no elongation, so the cut length is the developed length.",
      "The outside of its bends stretches by up to 48 %; see that tube and bender take it.",
      "The wall of 1.60 mm may thin to as little as 1.06 mm on the outside of its bends; less where the tube is pushed along.",
    ]
  `)
})

test('figures claim no more than is so: too little rounds down, what is missing rounds up', () => {
  const said = reasonText({ code: 'short-between', point: 1, expected: 45, got: 44.9999 }, 'mm')
  expect(said).toContain('is 44.99 mm')
  expect(said).toContain('0.01 mm further apart')
  expect(reasonText({ code: 'angle-too-large', point: 1, expected: 90, got: 90.0001 }, 'mm')).toContain('90.01°')
})

test('a code without words of its own is told with all that is known', () => {
  expect(reasonText({ code: 'never-heard-of', point: 2, expected: 1, got: 'x' }, 'mm')).toBe(
    'Corner 2: never heard of; expected 1; found x.',
  )
})

test('names from a file cannot steer the terminal', () => {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: just these must not be there
  expect(reasonText({ code: 'no-spring-back', of: '\u001b[2J\u202e' }, 'mm')).not.toMatch(/[\u0000-\u001f\u202e]/)
})

const of = 'Shop bender'
const bender: readonly PipeReason[] = [
  { code: 'no-tool', of, expected: '57, 63.5', got: 60 },
  { code: 'no-radius', point: 1, of, expected: '57, 85.5', got: 60 },
  { code: 'short-between', point: 1, expected: 45, got: 40 },
  { code: 'short-end', point: 1, end: 'from', expected: 35, got: 20 },
  { code: 'short-at-weld', point: 2, expected: 35, got: 20 },
  { code: 'negative-straight', point: 1, got: -30 },
  { code: 'negative-straight', point: 2, end: 'to', got: -5 },
  { code: 'bend-too-tight', point: 1, expected: 28.5, got: 28 },
  { code: 'angle-too-large', point: 3, expected: 120, got: 135 },
  { code: 'set-angle-too-large', point: 3, expected: 120, got: 122.4489 },
  { code: 'elbow-angle', point: 1, expected: 60, got: 90, of: 'Cast elbow' },
  { code: 'repeated-point', point: 2 },
  { code: 'turns-back', point: 1, got: 180 },
  { code: 'port-behind', end: 'to', point: 1, got: 170.25, of: 'turbo' },
]
const notes: readonly PipeReason[] = [
  { code: 'no-bender' },
  { code: 'no-spring-back', of },
  { code: 'no-elongation', of },
  { code: 'outside-stretches', got: 0.4751 },
  { code: 'outside-thins', expected: 1.6, got: 1.06666 },
]
