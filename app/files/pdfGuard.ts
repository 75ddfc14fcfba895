import { createInflateRaw } from 'node:zlib'
import { bad, good, type Outcome } from '../../core/fault.ts'

/** Of what is packed in a PDF, together, bytes; a set with its meshes takes a small part of it. */
const mostUnpacked = 256 * 2 ** 20
const mostStreams = 50_000
/** Of zlib's wrapping, before what is packed. */
const header = 2

/** The one kind of packing that our own sheets use, alone or as a list of one. */
const otherFilter = /\/Filter(?!\s*(?:\/FlateDecode|\[\s*\/FlateDecode\s*\])\s*(?:\/|>>))/

/**
 * Whether a PDF can be handed to the reader: a file from a stranger may unpack to more than the machine has. Everything that
 * may be packed is unpacked once against a limit, and what could hide from that is refused: encryption, and packing other
 * than the one kind that our own sheets use.
 * @param name as the user knows the file
 */
export async function guardPdf(name: string, bytes: Uint8Array, limit = mostUnpacked): Promise<Outcome<null>> {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const fault = (expected: string, got: string) => bad({ code: 'pdf-not-ours', file: name, expected, got })
  if (buffer.subarray(0, 1024).indexOf('%PDF-') < 0) return fault('a PDF file', 'something else')
  const text = unescaped(buffer.toString('latin1'))
  if (/\/Encrypt\b/.test(text)) return fault('a PDF without a password', 'an encrypted one')
  if (otherFilter.test(text)) return fault('a PDF as Gapwright writes it', 'another kind of packing')
  const begins = streamsIn(buffer)
  if (begins.length > mostStreams) return fault('a set of sheets', 'too many streams')
  let left = limit
  for (const begin of begins) {
    left -= await unpackedLength(buffer.subarray(begin + header), left)
    if (left < 0) return bad({ code: 'file-too-big', file: name, expected: `at most ${limit} bytes unpacked` })
  }
  return good(null)
}

/** Names may be written with `#` and two hexadecimal digits for any letter. */
const unescaped = (text: string): string =>
  text.replace(/#([0-9a-f]{2})/gi, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)))

/** Where anything may begin that is read as a stream, whether or not it is one. */
function streamsIn(buffer: Buffer): number[] {
  const begins: number[] = []
  for (
    let at = buffer.indexOf('stream');
    at >= 0 && begins.length <= mostStreams;
    at = buffer.indexOf('stream', at + 1)
  ) {
    if (buffer.toString('latin1', Math.max(0, at - 3), at) === 'end') continue
    const [first, second] = [buffer[at + 6], buffer[at + 7]]
    begins.push(at + (first === 0x0d && second === 0x0a ? 8 : 7))
  }
  return begins
}

/** Up to its end or to where it breaks, which is as far as any reader gets; more than the limit is not counted out. */
const unpackedLength = (packed: Buffer, limit: number): Promise<number> =>
  new Promise((resolve) => {
    const inflate = createInflateRaw()
    let length = 0
    const done = () => {
      inflate.destroy()
      resolve(length)
    }
    inflate.on('data', (chunk: Buffer) => {
      length += chunk.length
      if (length > limit) done()
    })
    inflate.on('error', done)
    inflate.on('end', done)
    inflate.end(packed)
  })
