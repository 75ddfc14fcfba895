import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import type { SheetFonts } from '../sheet/settings.ts'

/** The faces that sheets are set in, as they are installed with the program. */
export async function sheetFonts(): Promise<SheetFonts> {
  const { resolve } = createRequire(import.meta.url)
  const face = (name: string) => readFile(resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`))
  const [regular, bold] = await Promise.all([face('DejaVuSansCondensed'), face('DejaVuSansCondensed-Bold')])
  return { regular, bold }
}
