import { randomBytes } from 'node:crypto'

/** Stands in the built page wherever a nonce is wanted; every response gets one of its own. */
const noncePlaceholder = '__CSP_NONCE__'

const policy = (nonce: string): string =>
  [
    "default-src 'none'",
    "script-src 'self'",
    "worker-src 'self'",
    `style-src 'self' 'nonce-${nonce}'`,
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
    "object-src 'none'",
  ].join('; ')

/** Powers of a page that this program never uses. */
const refusedPowers = ['camera', 'microphone', 'geolocation', 'usb', 'serial', 'hid', 'bluetooth', 'payment', 'midi']

/**
 * Headers of every response, in the desktop shell and from the loopback server alike. The two cross-origin lines
 * isolate the page, without which there is no shared memory to cancel a busy worker with. A worker obeys the policy of
 * its own script's response, so scripts carry it too.
 */
export const headersWith = (nonce: string): Record<string, string> => ({
  'Content-Security-Policy': policy(nonce),
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Permissions-Policy': refusedPowers.map((power) => `${power}=()`).join(', '),
  'Cache-Control': 'no-store',
})

export const freshNonce = (): string => randomBytes(18).toString('base64')

export const withNonce = (page: string, nonce: string): string => page.replaceAll(noncePlaceholder, nonce)
