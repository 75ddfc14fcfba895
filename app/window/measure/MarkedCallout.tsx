import { Callout, type CalloutProps } from '../editors/Callouts.tsx'
import { usePointing } from './usePointing.ts'

interface Props extends Omit<CalloutProps, 'pointing'> {
  /** As the measure room's `open` names it: `port turbo`. */
  readonly row: string
}

/** The row of something that has a mark in the drawing: hovered or focused, it lights the mark, and the other way round. */
export function MarkedCallout({ row, ...callout }: Props) {
  return <Callout {...callout} pointing={usePointing(row)} />
}
