import { type MeshFile, travelsUpTo } from '../sheet/settings.ts'

/** A mesh file as the sheets name it, and take it along where it is not too big. */
export async function meshFileOf(bytes: Uint8Array): Promise<MeshFile> {
  const sha256 = await sha256Of(bytes)
  return { sha256, bytes: bytes.byteLength <= travelsUpTo ? bytes : null }
}

/** Hex. */
export async function sha256Of(bytes: Uint8Array): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes as BufferSource)
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}
