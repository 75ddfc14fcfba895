import { deflateSync } from 'node:zlib'
import { describe, expect, it } from 'vitest'
import { guardPdf } from './pdfGuard.ts'

const limit = 1000

/** The skeleton of a PDF (ISO 32000-1, 7.3.8: a dictionary, `stream`, bytes, `endstream`) with these streams. */
const pdfOf = (...streams: { head: string; bytes: Uint8Array }[]): Uint8Array =>
  Buffer.concat([
    Buffer.from('%PDF-1.7\n'),
    ...streams.flatMap(({ head, bytes }) => [
      Buffer.from(`1 0 obj\n<<\n/Length ${bytes.length}\n${head}\n>>\nstream\n`),
      bytes,
      Buffer.from('\nendstream\nendobj\n'),
    ]),
    Buffer.from('trailer\n<< /Size 2 >>\n%%EOF'),
  ])
const packed = (length: number) => ({ head: '/Filter /FlateDecode', bytes: deflateSync(Buffer.alloc(length)) })

describe('guardPdf', () => {
  it('lets through what unpacks to no more than the limit, all streams together', async () => {
    expect(await guardPdf('a.pdf', pdfOf(packed(500), packed(499)), limit)).toEqual({ ok: true, value: null })
    expect(await guardPdf('a.pdf', pdfOf(packed(500), packed(501)), limit)).toMatchObject({
      ok: false,
      faults: [{ code: 'file-too-big', file: 'a.pdf', expected: 'at most 1000 bytes unpacked' }],
    })
  })

  it('takes a filter in a list, and one that other keys follow', async () => {
    const bytes = deflateSync('x')
    for (const head of ['/Filter [/FlateDecode]', '/Filter [ /FlateDecode ] /Type /X', '/Filter/FlateDecode/Type/X'])
      expect(await guardPdf('a.pdf', pdfOf({ head, bytes }), limit), head).toMatchObject({ ok: true })
  })

  it.each([
    ['two in a row', '/Filter [/FlateDecode /FlateDecode]'],
    ['another kind', '/Filter /LZWDecode'],
    ['one by reference', '/Filter 12 0 R'],
    ['a name in disguise', '/F#69lter /LZWDecode'],
    ['a password', '/Encrypt 3 0 R'],
  ])('refuses %s', async (_, head) => {
    expect(await guardPdf('a.pdf', pdfOf({ head, bytes: Buffer.from('x') }), limit)).toMatchObject({
      ok: false,
      faults: [{ code: 'pdf-not-ours' }],
    })
  })

  it('counts what unpacks before it breaks: a reader takes that, too', async () => {
    const whole = deflateSync(Buffer.alloc(100_000))
    const checked = Buffer.from(whole)
    checked[checked.length - 1] ^= 1
    for (const bytes of [checked, whole.subarray(0, whole.length - 8)])
      expect(await guardPdf('a.pdf', pdfOf({ head: '/Filter /FlateDecode', bytes }), limit)).toMatchObject({
        faults: [{ code: 'file-too-big' }],
      })
  })

  it('finds what hides behind a word in a text', async () => {
    const hidden = Buffer.concat([Buffer.from('(stream'), pdfOf(packed(2000))])
    expect(await guardPdf('a.pdf', pdfOf({ head: '', bytes: hidden }), limit)).toMatchObject({
      faults: [{ code: 'file-too-big' }],
    })
  })

  it('refuses what is no PDF', async () => {
    expect(await guardPdf('a.pdf', Buffer.from('PK'), limit)).toMatchObject({ faults: [{ got: 'something else' }] })
  })
})
