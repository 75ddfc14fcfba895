import { describe, expect, test } from 'vitest'
import { freshRow, pastedOver, withoutRow, withRow } from './gridRows.ts'

const three = [
  [0, 0, 0],
  [101, 0, 0],
  [101, 50, 0],
]

describe('rows of a grid', () => {
  test('a new row starts half-way between its neighbours, in whole millimetres', () => {
    expect(freshRow(three, 1)).toEqual([51, 0, 0])
    expect(
      freshRow(
        [
          [0, 0],
          [1, 0],
        ],
        1,
      ),
    ).toEqual([0.5, 0])
  })
  test('before the first and after the last it goes on as the last step went', () => {
    expect(freshRow(three, 3)).toEqual([101, 100, 0])
    expect(freshRow(three, 0)).toEqual([-101, 0, 0])
  })
  test('a list of one or none has something to begin with', () => {
    expect(freshRow([[7, 8, 9]], 1)).toEqual([7, 8, 9])
    expect(freshRow([[7, 8, 9]], 0)).toEqual([7, 8, 9])
    expect(freshRow([], 0)).toEqual([0, 0, 0])
  })
  test('rows go in and out at their places', () => {
    const more = withRow(three, 1, [5, 5, 5])
    expect(more[1]).toEqual([5, 5, 5])
    expect(withoutRow(more, 1)).toEqual(three)
  })
  test('a block is laid over what is there and goes on below', () => {
    const block = [
      [1, 2, 3],
      [4, 5, 6],
    ]
    expect(pastedOver(three, { row: 0, column: 0 }, block, 3)).toEqual([...block, three[2]])
    expect(pastedOver(three, { row: 2, column: 0 }, block, 3)).toEqual([three[0], three[1], ...block])
    expect(pastedOver(three, { row: 1, column: 2 }, [[7], [8]], 3)).toEqual([three[0], [101, 0, 7], [101, 50, 8]])
  })
  test('a part of a row makes no new row', () => {
    expect(
      pastedOver(
        three,
        { row: 2, column: 1 },
        [
          [7, 7],
          [8, 8],
        ],
        3,
      ),
    ).toBeNull()
    expect(
      pastedOver(
        three,
        { row: 2, column: 0 },
        [
          [7, 7],
          [8, 8],
        ],
        3,
      ),
    ).toBeNull()
  })
})
