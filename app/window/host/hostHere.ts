import { type Bridge, bridgeName } from '../../bridge.ts'
import type { Host } from '../../host.ts'
import { browserHost } from './browserHost.ts'
import { desktopHost } from './desktopHost.ts'

/** The host of this page: the desktop shell where its preload left a bridge, otherwise the loopback server. */
export function hostHere(): Host {
  const bridge = (globalThis as { [bridgeName]?: Bridge })[bridgeName]
  return bridge ? desktopHost(bridge) : browserHost()
}
