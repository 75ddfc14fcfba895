import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import { Label } from 'react-aria-components/Label'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { Popover } from 'react-aria-components/Popover'
import { Select, SelectValue } from 'react-aria-components/Select'
import { Text } from 'react-aria-components/Text'

export interface Choice {
  readonly id: string
  readonly text: string
}

interface Props {
  readonly label: string
  /** Of the choices. */
  readonly value: string
  readonly choices: readonly Choice[]
  readonly onChange: (id: string) => void
  /** Shown for as long as the picker has the focus or is pointed at. */
  readonly explained?: ReactNode
}

/** One thing out of a list: a tube from stock, a radius of the bender. */
export function Picker({ label, value, choices, onChange, explained }: Props) {
  return (
    <Select className="picker" value={value} onChange={(key) => key !== value && onChange(String(key))}>
      <Label>{label}</Label>
      <Button className="picker-button">
        <SelectValue />
        <span aria-hidden="true">▾</span>
      </Button>
      {explained && (
        <Text slot="description" className="picker-explained">
          {explained}
        </Text>
      )}
      <Popover className="popover picker-popover">
        <ListBox className="choices">
          {choices.map(({ id, text }) => (
            <ListBoxItem key={id} id={id} textValue={text} className="choice">
              {text}
            </ListBoxItem>
          ))}
        </ListBox>
      </Popover>
    </Select>
  )
}
