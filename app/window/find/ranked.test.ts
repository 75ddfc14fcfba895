import { describe, expect, test } from 'vitest'
import { folded, ranked } from './ranked.ts'

const entry = (label: string, detail = '') => ({ label, detail })
const all = [
  entry('Undo', 'command'),
  entry('Crash beam', 'keep-out, safety'),
  entry('Crash can, left', 'keep-out, safety'),
  entry('Left lamp', 'keep-out, lamp'),
  entry('Left lamp (mirrored) to tank right', 'gap, clears'),
  entry('Réfrigérant line', 'keep-out, cooling'),
  entry('Core', 'part'),
  entry('Score sheet', 'part'),
  entry('Kühler Größe', 'keep-out'),
]
const names = (typed: string) => ranked(all, typed).map(({ label }) => label)

describe('what a few typed words find', () => {
  test.each([
    ['undo', ['Undo']],
    ['LAMP left', ['Left lamp', 'Left lamp (mirrored) to tank right']],
    ['left lamp tank', ['Left lamp (mirrored) to tank right']],
    ['beam crash', ['Crash beam']],
    ['refrigerant', ['Réfrigérant line']],
    ['RÉFRI', ['Réfrigérant line']],
    ['kuhler grosse', ['Kühler Größe']],
    ['core', ['Core', 'Score sheet']],
    ['safety left', ['Crash can, left']],
    ['gap lamp', ['Left lamp (mirrored) to tank right']],
    ['keep-out lamp', ['Left lamp']],
    ['xyzzy', []],
    ['crash xyzzy', []],
  ])('%s', (typed, found) => expect(names(typed)).toEqual(found))

  test('other words for it are searched too, and count less than its name', () => {
    const entries = [
      { ...entry('Next text size', 'command'), also: 'letters font' },
      entry('Letters of the plate', 'part'),
    ]
    expect(ranked(entries, 'letters').map(({ label }) => label)).toEqual(['Letters of the plate', 'Next text size'])
    expect(ranked(entries, 'font size').map(({ label }) => label)).toEqual(['Next text size'])
  })

  test('nothing typed finds everything, in the order given', () => {
    expect(names('')).toEqual(all.map(({ label }) => label))
    expect(names('  ')).toEqual(all.map(({ label }) => label))
  })

  test('a beginning stands before an inside, and a name before what stands beside it', () => {
    expect(names('c')[0]).toBe('Core')
    expect(names('lamp')[0]).toBe('Left lamp')
  })

  test('any order of the words finds the same entries', () => {
    for (const typed of ['left lamp tank', 'crash beam', 'safety crash can']) {
      const words = typed.split(' ')
      const turned = [...words.slice(1), words[0]].join(' ')
      expect(new Set(names(turned))).toEqual(new Set(names(typed)))
    }
  })

  test('letters are folded one way only: what is folded stays as it is', () => {
    for (const { label } of all) expect(folded(folded(label))).toBe(folded(label))
  })
})
