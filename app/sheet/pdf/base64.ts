/** Calls with more arguments than this end in an error of the engine. */
const chunk = 0x8000

/** The same in Node and in a browser's worker. */
export function base64(bytes: Uint8Array): string {
  const parts: string[] = []
  for (let at = 0; at < bytes.length; at += chunk) parts.push(String.fromCharCode(...bytes.subarray(at, at + chunk)))
  return btoa(parts.join(''))
}
