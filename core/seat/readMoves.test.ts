import { expect, test } from 'vitest'
import { readMoves } from './readMoves.ts'

const path = {
  start: { at: [0, 0, -400], turn: [0, 0, 0] },
  moves: [{ shift: [0, 0, 400], pivot: [0, 0, -400], axis: [0, 0, 1], angle: 0 }],
}
const codes = (value: unknown) => {
  const read = readMoves(typeof value === 'string' ? value : JSON.stringify(value), 'my.json')
  return read.ok ? [] : read.faults.map(({ code, field, file }) => [code, field, file])
}

test('reads what it is given, words beside it and all', () => {
  const [move] = path.moves
  const read = readMoves(JSON.stringify({ ...path, moves: [{ ...move, words: 'up 400' }] }), 'my.json')
  expect(read).toEqual({ ok: true, value: path })
})

test('names file and field of what is wrong', () => {
  const [move] = path.moves
  expect(codes('{')[0].slice(0, 1)).toEqual(['broken-json'])
  expect(codes({ ...path, moves: [] })).toEqual([['too-few', 'moves', 'my.json']])
  expect(codes({ ...path, moves: [{ ...move, axis: [0, 0, 0] }] })).toEqual([
    ['wrong-value', 'moves[0].axis', 'my.json'],
  ])
  expect(codes({ ...path, moves: [{ ...move, angel: 3 }] })).toEqual([['unknown-field', 'moves[0].angel', 'my.json']])
  expect(codes({ moves: path.moves })).toEqual([['missing-field', 'start', 'my.json']])
  expect(codes({ ...path, moves: [{ ...move, shift: [0, 0] }] })[0][1]).toMatch(/^moves\[0\]\.shift/)
})
