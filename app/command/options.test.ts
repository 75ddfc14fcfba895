import { InvalidArgumentError } from 'commander'
import { describe, expect, test } from 'vitest'
import { readBox, readFree, readPositiveLength, readSeconds, readShare, readTilt } from './options.ts'

const refused = (read: (text: string) => unknown, texts: readonly string[]) => {
  for (const text of texts) expect(() => read(text), text).toThrow(InvalidArgumentError)
}

describe('values of options', () => {
  test('a tilt is two angles within ±45°, the lesser first', () => {
    expect(readTilt('-5..5')).toEqual({ min: -5, max: 5 })
    expect(readTilt('−2.5°..7½')).toEqual({ min: -2.5, max: 7.5 })
    expect(readTilt('3..3')).toEqual({ min: 3, max: 3 })
    refused(readTilt, ['5..-5', '5', '-50..0', '0..45.1', '..', '1..2..3', 'a..b', '1..', ''])
  })

  test('axes are letters, each once', () => {
    expect(readFree('xyz')).toEqual({ x: true, y: true, z: true })
    expect(readFree('zx')).toEqual({ x: true, y: false, z: true })
    refused(readFree, ['', 'xx', 'xw', 'X', 'x,y'])
  })

  test('a length is in mm unless it says otherwise', () => {
    expect(readPositiveLength('25')).toBe(25)
    expect(readPositiveLength('1 1/2"')).toBeCloseTo(38.1, 9)
    refused(readPositiveLength, ['0', '-5', 'far', '', 'NaN', '1e3'])
  })

  test('a share is a number up to 1 or a percentage', () => {
    expect(readShare('0.005')).toBe(0.005)
    expect(readShare('.01')).toBe(0.01)
    expect(readShare('0.5%')).toBe(0.005)
    expect(readShare('1e-6')).toBe(1e-6)
    refused(readShare, ['0', '-0.1', '1.5', '101%', 'x', '', '%'])
  })

  test('seconds are a number above 0', () => {
    expect(readSeconds('2.5')).toBe(2.5)
    refused(readSeconds, ['0', '-1', '', 'soon', '1e9', 'Infinity'])
  })

  test('a box is two corners, the lesser of each axis first', () => {
    expect(readBox('-110,-300,60..0,300,420.5')).toEqual({ min: [-110, -300, 60], max: [0, 300, 420.5] })
    expect(readBox('0,0,0..1",2",3"').max).toEqual([25.4, 50.8, 76.2])
    refused(readBox, ['0,0,0', '0,0..1,1', '0,0,0..1,1,0', '1,1,1..0,2,2', '0,0,0..1,1,x', '0,0,0..1,1,1..2,2,2', ''])
  })
})
