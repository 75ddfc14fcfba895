import type { Port } from '../../../core/bay/schema.ts'
import { type FieldPath, withField } from '../state/edit.ts'
import { words } from '../words.ts'
import { EditSwitch } from './EditSwitch.tsx'
import { FigureGroups } from './FigureGroups.tsx'

const { port: text } = words.measure

/** A bead as tubes of common make have it, mm. Common practice, no source. */
const firstBead = { height: 2, width: 5, fromEnd: 4 }

interface Props {
  readonly of: string
  readonly bead: Port['bead']
  /** Its place in the bay. */
  readonly path: FieldPath
}

/** Whether a port or stub has a bead, and its sizes. */
export function BeadFields({ of, bead, path }: Props) {
  const figures = (
    [
      [text.beadHeight, 'height'],
      [text.beadWidth, 'width'],
      [text.beadFromEnd, 'fromEnd'],
    ] as const
  ).map(([label, field]) => ({
    of: `${of}, ${text.bead.toLowerCase()}`,
    label,
    path: [...path, field],
    quantity: 'length' as const,
  }))
  return (
    <>
      <EditSwitch
        isOn={bead !== undefined}
        label={(on) =>
          words.measure.changed(of, text.bead.toLowerCase(), on ? text.hasBead.toLowerCase() : words.field.none)
        }
        apply={(bay, on) => withField(bay, path, on ? firstBead : undefined)}
      >
        {text.hasBead}
      </EditSwitch>
      {bead && <FigureGroups groups={[{ title: text.bead, figures }]} />}
    </>
  )
}
