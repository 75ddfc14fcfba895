import { resolve } from 'node:path'

/**
 * The bay named on the shell's command line. The shell's own switches begin with dashes; started from the project,
 * the first plain argument is the project's folder.
 * @param argv as the process got it
 * @param packaged whether the program is installed
 * @param folder that relative names are taken from
 */
export function bayFrom(argv: readonly string[], packaged: boolean, folder: string): string | undefined {
  const plain = argv.slice(1).filter((given) => !given.startsWith('-'))
  const bay = packaged ? plain[0] : plain[1]
  return bay === undefined ? undefined : resolve(folder, bay)
}
