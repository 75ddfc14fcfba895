import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import type { PipeReason } from '../../core/pipe/answer.ts'
import { hasReasonWords, reasonText } from './reasonWords.ts'

const sources = ['jointJudged', 'couplerReasons', 'clampReasons', 'loss']
const codes = sources.flatMap((name) => {
  const text = readFileSync(new URL(`../../core/pipe/${name}.ts`, import.meta.url), 'utf8')
  return [...text.matchAll(/(?:code: |say\(|most\(|unseen\(|\| )'([a-z]+(?:-[a-z]+)+)'/g)].map((match) => match[1])
})
/** Faults of figures, worded with the faults. */
const ofFaults = ['not-finite', 'too-small', 'wall-too-thick']

test('every reason and note of a joint, and of the flow, has words', () => {
  const reasons = [...new Set(codes)].filter((code) => !ofFaults.includes(code))
  expect(reasons.length).toBeGreaterThan(30)
  expect(reasons.filter((code) => !hasReasonWords(code))).toEqual([])
})

const a = 'Hose A'
const reasons: PipeReason[] = [
  { code: 'leaves-askew', end: 'from', expected: 0.1, got: 0.1101 },
  { code: 'diameters-differ', end: 'from', expected: 57, got: 63.5 },
  { code: 'weld-moves', end: 'to', got: 6 },
  { code: 'coupler-diameter', end: 'from', on: 'port', of: a, expected: 63.5, got: 57 },
  { code: 'insertion-short', end: 'from', on: 'pipe', of: a, expected: 30, got: 27.9999 },
  { code: 'insertion-short', end: 'from', on: 'pipe', of: a, expected: 30, got: -2 },
  { code: 'insertion-no-room', end: 'to', on: 'port', of: a, expected: 34, got: 30 },
  { code: 'insertion-into-bend', end: 'to', on: 'pipe', of: a, expected: 40, got: 41.2 },
  { code: 'insertion-beyond-spigot', end: 'from', on: 'port', of: a, expected: 25, got: 30 },
  { code: 'end-straight-short', end: 'from', on: 'pipe', of: a, expected: 30, got: 23.57 },
  { code: 'end-straight-short', end: 'from', on: 'pipe', of: a, expected: 30, got: -4 },
  { code: 'gap-large', end: 'from', of: a, expected: 6, got: 6.001 },
  { code: 'tubes-touch', end: 'from', of: a, expected: 6, got: 4 },
  { code: 'tubes-touch', end: 'from', of: a, expected: 6, got: -1.5 },
  { code: 'offset-large', end: 'from', of: a, expected: 3, got: 4 },
  { code: 'angle-large', end: 'from', of: a, expected: 4, got: 4.0001 },
  { code: 'clamp-too-small', end: 'from', on: 'port', of: 'Band 50–70', expected: 70, got: 73.5 },
  { code: 'clamp-too-large', end: 'from', on: 'port', of: 'Band 80–100', expected: 80, got: 73.5 },
  { code: 'clamp-band-wide', end: 'from', on: 'pipe', of: 'Band', expected: 9.9, got: 12 },
  { code: 'clamp-band-wide', end: 'from', on: 'pipe', of: 'Band', expected: -1, got: 12 },
  { code: 'no-screwdriver-room', end: 'to', on: 'port', of: 'Band', got: 'beam, tank-right' },
  { code: 'no-screwdriver-room', end: 'to', on: 'port', of: 'Band', expected: 90, got: 'beam' },
]
const notes: PipeReason[] = [
  { code: 'no-joint', end: 'from' },
  { code: 'no-joint', end: 'from', got: 6 },
  { code: 'movement-passed-on', end: 'to', of: a, expected: 6, got: 2.499 },
  { code: 'no-bead', end: 'from', on: 'port' },
  { code: 'no-spigot', end: 'from', on: 'port', got: 30 },
  { code: 'no-clamp', end: 'from', on: 'pipe' },
  { code: 'clamp-no-tool', end: 'from', on: 'pipe', of: 'Band' },
  { code: 'tool-elsewhere', end: 'to', on: 'port', of: 'Band', got: '129.8° to 325.3°, 346.6° to 129.2°' },
  { code: 'tool-needs-off', end: 'from', on: 'pipe', of: 'Band', got: 'bottle' },
  { code: 'tool-not-against', end: 'from', on: 'port', of: 'Band', got: 'turbo' },
  { code: 'tool-without', end: 'from', got: 'cold' },
  { code: 'tool-left-out', end: 'from', got: 'beam' },
]

describe('joints in words', () => {
  test('why one does not hold', () => {
    expect(reasons.map((reason) => reasonText(reason, 'mm'))).toMatchInlineSnapshot(`
      [
        "At its beginning: the pipe leaves its port 0.12° askew, and there is no coupler to take that up; move the next corner in line with the port.",
        "At its beginning: a pipe of 63.50 mm meets a port of 57.00 mm; a coupler that reduces is needed.",
        "At its end: welded to a port that moves by 6.00 mm; a coupler is needed.",
        "At its beginning: Hose A is 63.50 mm inside, and the port is 57.00 mm across; take a coupler of that size.",
        "At its beginning: the pipe goes 27.99 mm into Hose A, which must hold 30.00 mm; 2.01 mm more are needed.",
        "At its beginning: the pipe does not reach into Hose A, which must hold 30.00 mm of it.",
        "At its end: bead, clamp and the edges beside them need 34.00 mm of the port in Hose A, and 30.00 mm of it are; take a longer coupler or a narrower band.",
        "At its end: the pipe goes up to 41.20 mm into Hose A, whose bend begins after 40.00 mm.",
        "At its beginning: Hose A goes 30.00 mm over the port, which is 25.00 mm long; take a shorter coupler or a longer port.",
        "At its beginning: Hose A goes 30.00 mm over the pipe, whose straight is only 23.57 mm there; 6.43 mm more are needed.",
        "At its beginning: Hose A goes 30.00 mm over the pipe, whose straight is nothing there; 34.00 mm more are needed.",
        "At its beginning: Hose A takes 6.00 mm between the two tubes, and with movement it is up to 6.01 mm.",
        "At its beginning: the port moves by 6.00 mm, and only 4.00 mm lie between the two tubes: they would touch.",
        "At its beginning: the two tubes overlap by 1.50 mm.",
        "At its beginning: Hose A takes tubes 3.00 mm beside each other, and with movement it is up to 4.00 mm.",
        "At its beginning: Hose A takes 4° between the two tubes, and with movement it is up to 4.01°; bring the next corner in line.",
        "At its beginning: Band 50–70 opens to 70.00 mm, and the hose over the port is 73.50 mm; take a larger clamp.",
        "At its beginning: Band 80–100 closes to 80.00 mm, and the hose over the port is 73.50 mm; take a smaller clamp.",
        "At its beginning: the band of Band is 12.00 mm wide, and the hose has 9.90 mm of straight for it; take a narrower band.",
        "At its beginning: the hose has no straight for the band of Band.",
        "At its end: no tool reaches the screw of Band on the port; in the way: beam, tank-right.",
        "At its end: no tool reaches the screw of Band on the port at 90°; in the way: beam.",
      ]
    `)
  })
  test('in inches', () => {
    expect(reasons.slice(3, 6).map((reason) => reasonText(reason, 'inch'))).toMatchInlineSnapshot(`
      [
        "At its beginning: Hose A is 2.500″ inside, and the port is 2.244″ across; take a coupler of that size.",
        "At its beginning: the pipe goes 1.102″ into Hose A, which must hold 1.181″; 0.079″ more are needed.",
        "At its beginning: the pipe does not reach into Hose A, which must hold 1.181″ of it.",
      ]
    `)
  })
  test('what is not known of one', () => {
    expect(notes.map((note) => reasonText(note, 'mm'))).toMatchInlineSnapshot(`
      [
        "At its beginning: no joint is named: the pipe is drawn as meeting its port.",
        "At its beginning: no joint is named, and the port moves by 6.00 mm: the pipe is drawn as meeting its port.",
        "At its end: the other port moves by 6.00 mm; should its coupler be the stiffer one, Hose A can take only 2.49 mm of that.",
        "At its beginning: no bead is named on the port: see that the hose cannot slide off.",
        "At its beginning: how long the port is, is not told: the coupler needs 30.00 mm of straight.",
        "At its beginning: no clamp is named on the pipe.",
        "At its beginning: what room a tool needs at Band is not told, so whether one reaches it is not known.",
        "At its end: a tool would reach the screw of Band on the port with the screw at rolls of 129.8° to 325.3°, 346.6° to 129.2°.",
        "At its beginning: a tool reaches the screw of Band on the pipe only with what comes off taken off: bottle.",
        "At its beginning: Band stands within turbo, so a tool at it was not held against that.",
        "At its beginning: tools at the clamps were not held against pipes that have no shape: cold.",
        "At its beginning: tools at the clamps were not held against what is left out: beam.",
      ]
    `)
  })
})
