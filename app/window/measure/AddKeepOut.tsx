import { useEffect, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Menu, MenuItem, MenuTrigger } from 'react-aria-components/Menu'
import { Popover } from 'react-aria-components/Popover'
import { Text } from 'react-aria-components/Text'
import { useHere } from '../state/context.ts'
import { words } from '../words.ts'
import { addOfKind, typedKinds } from './adding.ts'
import { useMeasure } from './useMeasure.ts'

/** The kinds of keep-out that can be begun; the key of the command opens them too. */
export function AddKeepOut() {
  const { room } = useHere()
  const [open, setOpen] = useState(false)
  const wished = useMeasure((state) => state.kinds)
  const text = words.measure.add
  useEffect(() => {
    if (wished === 0) return
    room.measure.store.setState({ kinds: 0 })
    setOpen(true)
  }, [wished, room])
  return (
    <MenuTrigger isOpen={open} onOpenChange={setOpen}>
      <Button className="plain add-keep-out">
        <span aria-hidden="true">+</span> {text.button} <span aria-hidden="true">▾</span>
      </Button>
      <Popover className="popover" placement="bottom start">
        <Menu className="choices" autoFocus="first">
          {typedKinds.map((kind) => (
            <MenuItem
              key={kind}
              id={kind}
              textValue={text.of[kind]}
              className="choice choice-said"
              onAction={() => addOfKind(room, kind)}
            >
              <Text slot="label">{text.of[kind]}</Text>
              <Text slot="description">{text.says[kind]}</Text>
            </MenuItem>
          ))}
          <MenuItem
            id="mesh"
            textValue={text.mesh}
            className="choice choice-said"
            onAction={() => room.measure.askForMesh()}
          >
            <Text slot="label">{text.mesh}</Text>
            <Text slot="description">{text.says.mesh}</Text>
          </MenuItem>
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}
