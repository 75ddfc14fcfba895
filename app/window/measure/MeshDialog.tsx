import { type ReactNode, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Dialog } from 'react-aria-components/Dialog'
import { FileTrigger } from 'react-aria-components/FileTrigger'
import { Heading } from 'react-aria-components/Heading'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import { meshSize } from '../../../core/shape/meshCorners.ts'
import type { MeshUnit } from '../../../core/shape/meshShape.ts'
import { meshUnits } from '../../../core/shape/meshShape.ts'
import { formatLength } from '../../../core/units/lengthText.ts'
import { faultTexts } from '../../wording.ts'
import { Picker } from '../editors/Picker.tsx'
import { useHere } from '../state/context.ts'
import type { MeshInHand } from '../state/measure.ts'
import { words } from '../words.ts'
import { useMeasure } from './useMeasure.ts'

const text = words.measure.mesh
const unitChoices = (Object.keys(meshUnits) as MeshUnit[]).map((id) => ({ id, text: words.measure.shape.units[id] }))
const accepted = ['.stl', '.obj', '.ply', '.glb', '.gz']

/** A mesh file on its way into the bay: what is in it, how big it is in which unit, or what is wrong with it. */
export function MeshDialog() {
  const { room } = useHere()
  const mesh = useMeasure((state) => state.mesh)
  const faults = useMeasure((state) => state.meshFaults)
  const close = () => room.measure.leaveMesh()
  const inHand = mesh !== null && typeof mesh !== 'string' ? mesh : null
  return (
    <ModalOverlay className="veil" isOpen={mesh !== null} onOpenChange={(on) => !on && close()}>
      <Modal className="sheet mesh-sheet">
        <Dialog className="sheet-inside">
          <Heading slot="title">{inHand ? text.titleOf(inHand.name) : text.title}</Heading>
          {mesh === 'reading' && <p role="status">{text.reading}</p>}
          {mesh === 'asking' && <p>{text.ask}</p>}
          {faults.length > 0 && (
            <p className="figure-fault" role="alert">
              {faultTexts(faults).join(' ')}
            </p>
          )}
          {inHand ? (
            <Found key={inHand.name} mesh={inHand} onClose={close} />
          ) : (
            <div className="sheet-buttons">
              <ChooseFile>
                <Button className="main" autoFocus isDisabled={mesh === 'reading'}>
                  {text.choose}
                </Button>
              </ChooseFile>
              <Button className="plain" onPress={close}>
                {text.cancel}
              </Button>
            </div>
          )}
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function ChooseFile({ children }: { children: ReactNode }) {
  const { room } = useHere()
  return (
    <FileTrigger
      acceptedFileTypes={accepted}
      onSelect={(files) => {
        const file = files?.[0]
        if (file) void room.measure.lookInto(file)
      }}
    >
      {children}
    </FileTrigger>
  )
}

function Found({ mesh, onClose }: { mesh: MeshInHand; onClose: () => void }) {
  const { room } = useHere()
  const { found: note } = mesh
  const [unit, setUnit] = useState<MeshUnit>(unitOf(note.format))
  const [busy, setBusy] = useState(false)
  const size = meshSize(note.bounds, unit)
  const take = async () => {
    setBusy(true)
    const added = await room.measure.takeMesh(unit)
    setBusy(false)
    if (added && !added.onDisk)
      room.store.setState({ banner: { title: text.notOnDiskTitle, lines: text.notOnDisk(added.file), news: true } })
  }
  const faults = [note.dropped > 0 && text.dropped(note.dropped), note.turnedBack > 0 && text.turned(note.turnedBack)]
  return (
    <>
      <Picker label={text.unit} value={unit} choices={unitChoices} onChange={(id) => setUnit(id as MeshUnit)} />
      <p className="callout-note">{text.unitHint}</p>
      <dl className="mesh-facts">
        <Fact name={text.size}>
          {text.sizeOf(size.map((mm) => formatLength(mm, 'mm')))}
          <br />
          {text.sizeOf(size.map((mm) => formatLength(mm, 'inch')))}
        </Fact>
        <Fact name={text.triangles}>
          {note.triangles.toLocaleString('en')} ({note.format})
        </Fact>
        <Fact name={text.surface}>{note.closed ? text.closed : text.open(text.edges(note.openEdges))}</Fact>
        <Fact name={text.pieces}>{note.components.toLocaleString('en')}</Fact>
        <Fact name={text.faults}>{faults.filter(Boolean).join(', ') || text.noFaults}</Fact>
      </dl>
      <div className="sheet-buttons">
        <Button className="main" autoFocus isDisabled={busy} onPress={() => void take()}>
          {text.take}
        </Button>
        <ChooseFile>
          <Button className="plain">{text.other}</Button>
        </ChooseFile>
        <Button className="plain" onPress={onClose}>
          {text.cancel}
        </Button>
      </div>
    </>
  )
}

/** What a format says of its numbers: those of glTF are metres (Khronos, glTF 2.0, coordinate system and units; from memory). */
const unitOf = (format: string): MeshUnit => (format === 'GLB' ? 'm' : 'mm')

function Fact({ name, children }: { name: string; children: ReactNode }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}
