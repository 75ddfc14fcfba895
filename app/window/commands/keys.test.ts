import { describe, expect, test } from 'vitest'
import { commandFor, keyName } from './keys.ts'
import { commands } from './list.ts'
import { words } from '../words.ts'

const press = (key: string, ...held: ('ctrl' | 'shift' | 'alt' | 'meta')[]) => ({
  key,
  ctrlKey: held.includes('ctrl'),
  shiftKey: held.includes('shift'),
  altKey: held.includes('alt'),
  metaKey: held.includes('meta'),
})

describe('keys', () => {
  test('are named as commands write them, on any keyboard', () => {
    expect(keyName(press('z', 'ctrl'))).toBe('Ctrl+Z')
    expect(keyName(press('Z', 'meta', 'shift'))).toBe('Ctrl+Shift+Z')
    expect(keyName(press('?', 'shift'))).toBe('?')
    expect(keyName(press('+', 'shift'))).toBe('+')
    expect(keyName(press('F1'))).toBe('F1')
  })

  test.each([
    [press('o', 'ctrl'), 'open'],
    [press('S', 'ctrl', 'shift'), 'save-as'],
    [press('y', 'ctrl'), 'redo'],
    [press('f'), 'fit'],
    [press('1'), 'view-front'],
  ])('%o does %s', (pressed, name) => expect(commandFor(pressed)?.name).toBe(name))

  test('the browser keeps what is not ours', () => {
    expect(commandFor(press('f', 'ctrl'))).toBeUndefined()
    expect(commandFor(press('q'))).toBeUndefined()
  })

  test('no two commands share a key or a name', () => {
    const keys = commands.flatMap((command) => command.keys)
    expect(new Set(keys).size).toBe(keys.length)
    expect(new Set(commands.map(({ name }) => name)).size).toBe(commands.length)
  })
})

test('other words to search by belong to commands that there are', () => {
  const names = new Set(commands.map(({ name }) => name))
  expect(Object.keys(words.find.also).filter((name) => !names.has(name))).toEqual([])
})
