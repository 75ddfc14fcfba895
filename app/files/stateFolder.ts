import { homedir } from 'node:os'
import { join } from 'node:path'

/**
 * The user's private folder for what the program keeps by itself: the journal of unsaved work, recent files. Never a bay's
 * folder.
 * @param env GAPWRIGHT_STATE names another one
 * Source: XDG Base Directory Specification for Linux ("$XDG_STATE_HOME", default "$HOME/.local/state"; relative values
 *   are to be ignored); the other systems' folders: common practice, from memory.
 */
export function stateFolder(
  env: Readonly<Record<string, string | undefined>> = process.env,
  platform: string = process.platform,
  home: string = homedir(),
): string {
  if (env.GAPWRIGHT_STATE) return env.GAPWRIGHT_STATE
  if (platform === 'win32') return join(env.LOCALAPPDATA ?? join(home, 'AppData', 'Local'), 'Gapwright')
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'Gapwright')
  const given = env.XDG_STATE_HOME
  return join(given?.startsWith('/') ? given : join(home, '.local', 'state'), 'gapwright')
}
