import { memo } from 'react'
import { askedBy } from '../../../core/bay/defaults.ts'
import type { KeepOut } from '../../../core/bay/schema.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { Callout } from './Callouts.tsx'
import { KeepOutEditor } from './KeepOutEditor.tsx'
import { RoleSwatch } from './KeepOutRole.tsx'
import { fieldText } from './quantity.ts'

/** Every keep-out with what it asks; opened, all that can be said of it. */
export function KeepOutCallouts() {
  const bay = useWindow(bayOf)
  if (!bay || bay.keepOuts.length === 0) return <p className="callouts-none">{words.keepOut.none}</p>
  return (
    <section className="callouts callouts-long" aria-label={words.keepOut.list}>
      {bay.keepOuts.map((keepOut, index) => (
        <KeepOutCallout key={keepOut.id} keepOut={keepOut} index={index} />
      ))}
    </section>
  )
}

/** Drawn anew only where its own keep-out is another: a bay may hold hundreds. */
const KeepOutCallout = memo(function KeepOutCallout({ keepOut, index }: { keepOut: KeepOut; index: number }) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const { id, name, role, enabled, mirror } = keepOut
  const open = useWindow(({ openItem }) => openItem?.side === 'keepOut' && openItem.key === id)
  const { required, uncertainty } = askedBy(keepOut)
  const brief =
    enabled === false
      ? words.keepOut.leftOut
      : words.keepOut.allowances(fieldText(required, 'length', units), fieldText(uncertainty, 'length', units))
  return (
    <Callout
      title={mirror ? `${name}, ${words.keepOut.both}` : name}
      brief={brief}
      mark={<RoleSwatch role={role} />}
      muted={enabled === false}
      explains={enabled === false ? undefined : 'keepOutAsks'}
      open={open}
      onOpen={(on) => room.store.setState({ openItem: on ? { side: 'keepOut', key: id } : null })}
    >
      <KeepOutEditor keepOut={keepOut} index={index} />
    </Callout>
  )
})
