import { describe, expect, test } from 'vitest'
import { type DrawingSheet, drawingSvg } from './drawingSvg.ts'

const square = [
  [0, 0],
  [600, 0],
  [600, 300],
  [0, 300],
] as const
const sheet = (more: Partial<DrawingSheet> = {}): DrawingSheet => ({
  title: 'Front drawing',
  caption: ['A bay', 'a caution'],
  things: [{ name: 'beam', hatch: 'safety', rings: [square], lines: [], hidden: [[square[0], square[2]]] }],
  dimensions: [
    { kind: 'gap', from: [600, 150], to: [640, 150], text: '40.0', name: 'beam', mm: 40 },
    { kind: 'across', from: [0, 0], to: [600, 0], text: '600', name: 'overall', mm: 600 },
  ],
  ...more,
})

describe('a drawing as SVG', () => {
  test('says its scale, a standard one, and draws true to it', () => {
    const text = drawingSvg(sheet())
    // 640 mm fit 376 mm of an A3 sheet at 1 : 2 (ISO 5455's next scale).
    expect(text).toContain('scale 1 : 2<')
    const ring =
      /<path d="M([^"]+)Z" fill="#dedbd0"/
        .exec(text)?.[1]
        .split('L')
        .map((at) => at.split(' ').map(Number)) ?? []
    expect(ring).toHaveLength(4)
    expect(ring[1][0] - ring[0][0]).toBeCloseTo((600 * 4) / 2, 3)
    expect(ring[0][1] - ring[2][1]).toBeCloseTo((300 * 4) / 2, 3)
    expect(text).toContain('stroke-dasharray="4 2.5"')
    expect(text).toContain('url(#hatch-safety)')
  })

  test('names from a stranger stay text', () => {
    const name = '</title><script>alert(1)</script> & "x" \u0001\ud800'
    const text = drawingSvg(sheet({ title: name, things: [{ ...sheet().things[0], name }] }))
    expect(text).not.toMatch(/<script/)
    expect(text).toContain('&lt;script&gt;')
    expect(text).toContain('&amp; &quot;x&quot; \ufffd\ufffd')
  })

  test('dimensions carry their true values for programs', () => {
    const found = [...drawingSvg(sheet()).matchAll(/data-kind="(\w+)" data-mm="([\d.]+)"/g)].map(([, kind, mm]) => [
      kind,
      mm,
    ])
    expect(found).toEqual([
      ['across', '600'],
      ['gap', '40'],
    ])
  })

  test('an empty bay is an empty sheet', () => {
    expect(drawingSvg(sheet({ things: [], dimensions: [] }))).not.toMatch(/NaN|Infinity/)
  })
})
