import { Color, ColorManagement } from 'three'
import type { Colours, Palette } from './protocol.ts'

// Colours are given and wanted as the style sheet writes them.
ColorManagement.enabled = false

/** The palette as the graphics take it. */
export type Tones = Colours<Color>

export function tonesOf({ verdict, ...rest }: Palette): Tones {
  return { ...mixed(rest), verdict: mixed(verdict) }
}

const mixed = <Name extends string>(colours: Readonly<Record<Name, string>>) =>
  Object.fromEntries(Object.entries<string>(colours).map(([name, text]) => [name, new Color(text)])) as Record<
    Name,
    Color
  >
