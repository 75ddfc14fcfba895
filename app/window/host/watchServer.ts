/**
 * Holds one long answer open, by which the server knows that a window is still there and can end after the last one.
 * The browser takes it up again by itself after a break.
 */
export function watchServer(): void {
  if (typeof EventSource === 'undefined') return
  const presence = new EventSource('api/here')
  addEventListener('pagehide', () => presence.close())
}
