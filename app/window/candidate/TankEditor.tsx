import { Button } from 'react-aria-components/Button'
import type { Candidate, Tank } from '../../../core/bay/schema.ts'
import { type Side, sides } from '../../../core/bay/tankPort.ts'
import { candidateWords } from '../candidateWords.ts'
import { EditSwitch } from '../editors/EditSwitch.tsx'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import { tankGroups, taperGroups } from '../editors/specs.ts'
import { useSteps } from '../editors/useSteps.tsx'
import { useHere } from '../state/context.ts'
import { words } from '../words.ts'
import { RemoveButton } from './RemoveButton.tsx'
import { StubEditor } from './StubEditor.tsx'
import { addTank, addTankPort, removeTank, setTaper } from './tankEdits.ts'

const { tank: text } = candidateWords

/** Adds a tank on each side that has none. */
export function MissingTanks({ candidate, index }: { candidate: Candidate; index: number }) {
  const { room } = useHere()
  const { go, told } = useSteps()
  const missing = sides.filter((side) => !candidate.tanks?.[side])
  if (missing.length === 0) return null
  return (
    <div className="candidate-tools">
      {missing.map((side) => (
        <Button
          key={side}
          className="small"
          onPress={() => {
            if (go(text.add[side], (bay) => addTank(bay, index, side)))
              room.store.setState({ openItem: { side: 'part', key: `tank-${side}` } })
          }}
        >
          {text.add[side]}
        </Button>
      ))}
      {told}
    </div>
  )
}

/** All of one tank: its sizes, its taper, its stubs, and taking it out. */
export function TankEditor({ tank, index, side }: { tank: Tank; index: number; side: Side }) {
  const { go, told } = useSteps()
  const ports = tank.ports ?? []
  return (
    <>
      <FigureGroups groups={tankGroups(index, side)} />
      <EditSwitch
        isOn={tank.taper !== undefined}
        label={(on) => text.tapered(words.part.tank[side], on)}
        apply={(bay, on) => setTaper(bay, index, side, on)}
      >
        {text.taper}
      </EditSwitch>
      {tank.taper && <FigureGroups groups={taperGroups(index, side)} />}
      {ports.length === 0 && <p className="callout-note">{text.noPorts}</p>}
      {ports.map((port, nth) => (
        <StubEditor key={port.id} port={port} nth={nth} index={index} side={side} />
      ))}
      {told}
      <div className="candidate-tools">
        <Button className="small" onPress={() => go(text.addPort, (bay) => addTankPort(bay, index, side))}>
          {text.addPort}
        </Button>
        <RemoveButton
          label={text.remove[side]}
          what={text.what[side]}
          removal={(bay) => removeTank(bay, index, side)}
        />
      </div>
    </>
  )
}
