import { describe, expect, test } from 'vitest'
import { amountText, gainText, shareText } from './amounts.ts'

describe('volumes and faces as text', () => {
  test('values round down and bounds up', () => {
    expect(amountText(14_849_999, 'volume', 'mm', 'down')).toBe('14.84 L')
    expect(amountText(14_840_001, 'volume', 'mm', 'up')).toBe('14.85 L')
    expect(amountText(14_850_000, 'volume', 'mm', 'up')).toBe('14.85 L')
    expect(amountText(145_699, 'face', 'mm', 'down')).toBe('1456 cm²')
    expect(amountText(1_234_567, 'volume', 'mm', 'down')).toBe('1.234 L')
    // 1 in = 25.4 mm exactly.
    expect(amountText(10 * 25.4 ** 3, 'volume', 'inch', 'down')).toBe('10.00 in³')
    expect(amountText(99 * 25.4 ** 2, 'face', 'inch', 'up')).toBe('99.00 in²')
    expect(amountText(Number.POSITIVE_INFINITY, 'volume', 'mm', 'up')).toBe('∞ L')
  })

  test('a gain keeps two figures, and nothing is called nothing', () => {
    expect(gainText(310_000, 'volume', 'mm')).toBe('0.31 L')
    expect(gainText(4_200, 'volume', 'mm')).toBe('0.004 L')
    expect(gainText(12_600_000, 'volume', 'mm')).toBe('12 L')
    expect(gainText(0, 'volume', 'mm')).toBe('nothing by itself')
    expect(gainText(3, 'volume', 'mm')).toBe('nothing by itself')
  })

  test('how far from the best is rounded up', () => {
    expect(shareText(0.005)).toBe('0.5 %')
    expect(shareText(0.00501)).toBe('0.51 %')
    expect(shareText(0.000_482_1)).toBe('0.049 %')
    expect(shareText(0)).toBe('0.0001 %')
    expect(shareText(0.123)).toBe('13 %')
    expect(shareText(Number.POSITIVE_INFINITY)).toBe('∞ %')
  })
})
