/**
 * Holds one long answer open, by which the server knows that this window is still there and can end after the last one,
 * and through which it tells of bays that changed on the disk. The browser takes it up again by itself after a break.
 * @param window names this window to the server
 */
export function watchServer(window: string, onTouched: (token: string) => void): void {
  if (typeof EventSource === 'undefined') return
  const presence = new EventSource(`api/here?window=${window}`)
  presence.addEventListener('touched', ({ data }) => onTouched(String(data)))
  addEventListener('pagehide', () => presence.close())
}
