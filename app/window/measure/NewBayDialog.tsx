import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Dialog } from 'react-aria-components/Dialog'
import { Form } from 'react-aria-components/Form'
import { Heading } from 'react-aria-components/Heading'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import { Text } from 'react-aria-components/Text'
import { TextField } from 'react-aria-components/TextField'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'
import { emptyBay, frameNote } from '../../../core/bay/emptyBay.ts'
import { checkBay } from '../../../core/bay/read.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import type { Fault } from '../../../core/fault.ts'
import { faultTexts } from '../../wording.ts'
import { useHere } from '../state/context.ts'
import { words } from '../words.ts'
import { useMeasure } from './useMeasure.ts'

const text = words.measure.begin

/** Asks what a bay cannot do without: a name, its frame in words, its unit. */
export function NewBayDialog() {
  const { room } = useHere()
  const open = useMeasure((state) => state.beginning)
  const close = () => room.measure.store.setState({ beginning: false })
  return (
    <ModalOverlay className="veil" isOpen={open} onOpenChange={(on) => !on && close()}>
      <Modal className="sheet new-bay">
        <Dialog className="sheet-inside">
          <Heading slot="title">{text.title}</Heading>
          <Questions onClose={close} />
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function Questions({ onClose }: { onClose: () => void }) {
  const { room } = useHere()
  const [name, setName] = useState('')
  const [origin, setOrigin] = useState('')
  const [axes, setAxes] = useState(frameNote)
  const [units, setUnits] = useState<PeopleUnits>('mm')
  const [asked, setAsked] = useState(false)
  const [faults, setFaults] = useState<readonly Fault[]>([])
  const missing = (answer: string) => asked && answer.trim() === ''
  const begin = () => {
    setAsked(true)
    if (name.trim() === '' || origin.trim() === '') return
    const bay = emptyBay(name.trim(), origin.trim(), axes.trim(), units)
    const checked = checkBay(bay)
    if (!checked.ok) return setFaults(checked.faults)
    onClose()
    void room.begin(bay)
  }
  return (
    <Form
      className="new-bay-form"
      onSubmit={(event) => {
        event.preventDefault()
        begin()
      }}
    >
      <Answer
        label={text.name}
        value={name}
        onChange={setName}
        missing={missing(name)}
        hint={text.namePlaceholder}
        first
      />
      <Answer
        label={text.origin}
        value={origin}
        onChange={setOrigin}
        missing={missing(origin)}
        hint={text.originPlaceholder}
        explained={text.originHint}
      />
      <Answer label={text.axes} value={axes} onChange={setAxes} explained={text.axesHint} />
      <div className="new-bay-units">
        <span id="new-bay-units">{text.units}</span>
        <ToggleButtonGroup
          aria-labelledby="new-bay-units"
          className="switch"
          selectionMode="single"
          disallowEmptySelection
          selectedKeys={[units]}
          onSelectionChange={(keys) => setUnits([...keys][0] as PeopleUnits)}
        >
          <ToggleButton id="mm">{words.units.mm}</ToggleButton>
          <ToggleButton id="inch">{words.units.inch}</ToggleButton>
        </ToggleButtonGroup>
      </div>
      {faults.length > 0 && (
        <p className="figure-fault" role="alert">
          {faultTexts(faults).join(' ')}
        </p>
      )}
      <div className="sheet-buttons">
        <Button className="main" type="submit">
          {text.go}
        </Button>
        <Button className="plain" onPress={onClose}>
          {text.cancel}
        </Button>
      </div>
    </Form>
  )
}

interface AnswerProps {
  readonly label: string
  readonly value: string
  readonly onChange: (value: string) => void
  readonly missing?: boolean
  readonly hint?: string
  readonly explained?: string
  readonly first?: boolean
}

function Answer({ label, value, onChange, missing = false, hint, explained, first = false }: AnswerProps) {
  return (
    <TextField className="item-text" value={value} onChange={onChange} isInvalid={missing} autoFocus={first}>
      <Label>{label}</Label>
      <Input autoComplete="off" placeholder={hint} data-draft />
      {explained && (
        <Text slot="description" className="callout-note">
          {explained}
        </Text>
      )}
      {missing && (
        <Text slot="errorMessage" className="figure-fault">
          {text.missing}
        </Text>
      )}
    </TextField>
  )
}
