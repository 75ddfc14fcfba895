import { askedBy } from '../../../core/bay/defaults.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { Callout } from './Callouts.tsx'
import { KeepOutEditor } from './KeepOutEditor.tsx'
import { RoleSwatch } from './KeepOutRole.tsx'
import { fieldText } from './quantity.ts'

/** Every keep-out with what it asks; opened, all that can be said of it. */
export function KeepOutCallouts() {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  const openItem = useWindow((state) => state.openItem)
  if (!bay || bay.keepOuts.length === 0) return <p className="callouts-none">{words.keepOut.none}</p>
  return (
    <section className="callouts" aria-label={words.keepOut.list}>
      {bay.keepOuts.map((keepOut, index) => {
        const { id, name, role, enabled, mirror } = keepOut
        const { required, uncertainty } = askedBy(keepOut)
        const brief =
          enabled === false
            ? words.keepOut.leftOut
            : words.keepOut.allowances(fieldText(required, 'length', units), fieldText(uncertainty, 'length', units))
        return (
          <Callout
            key={id}
            title={mirror ? `${name}, ${words.keepOut.both}` : name}
            brief={brief}
            mark={<RoleSwatch role={role} />}
            muted={enabled === false}
            open={openItem?.side === 'keepOut' && openItem.key === id}
            onOpen={(on) => room.store.setState({ openItem: on ? { side: 'keepOut', key: id } : null })}
          >
            <KeepOutEditor keepOut={keepOut} index={index} />
          </Callout>
        )
      })}
    </section>
  )
}
