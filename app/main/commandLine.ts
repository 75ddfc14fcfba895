import { resolve } from 'node:path'

/**
 * The bays named on the shell's command line. The shell's own switches begin with dashes; started from the project,
 * the first plain argument is the project's folder.
 * @param argv as the process got it
 * @param packaged whether the program is installed
 * @param folder that relative names are taken from
 */
export function baysFrom(argv: readonly string[], packaged: boolean, folder: string): string[] {
  const plain = argv.slice(1).filter((given) => !given.startsWith('-'))
  return plain.slice(packaged ? 0 : 1).map((bay) => resolve(folder, bay))
}
