import { Button } from 'react-aria-components/Button'
import type { Candidate } from '../../../core/bay/schema.ts'
import { type Side, sides } from '../../../core/bay/tankPort.ts'
import { candidateWords } from '../candidateWords.ts'
import { useHere } from '../state/context.ts'
import { step } from './doing.ts'
import { NameField } from './NameField.tsx'
import { RemoveButton } from './RemoveButton.tsx'
import { addTank, addTankPort, removeTank, removeTankPort, renameTankPort } from './tankEdits.ts'

const { tank: text } = candidateWords

/** Adds a tank on each side that has none. */
export function MissingTanks({ candidate, index }: { candidate: Candidate; index: number }) {
  const { room } = useHere()
  const missing = sides.filter((side) => !candidate.tanks?.[side])
  if (missing.length === 0) return null
  return (
    <div className="candidate-tools">
      {missing.map((side) => (
        <Button
          key={side}
          className="small"
          onPress={() => {
            if (step(room.store, text.add[side], (bay) => addTank(bay, index, side)) === null)
              room.store.setState({ openItem: { side: 'part', key: `tank-${side}` } })
          }}
        >
          {text.add[side]}
        </Button>
      ))}
    </div>
  )
}

/** Stubs of a tank added and taken out, and the tank itself. */
export function TankTools({ candidate, index, side }: { candidate: Candidate; index: number; side: Side }) {
  const { room } = useHere()
  const ports = candidate.tanks?.[side]?.ports ?? []
  const tank = text.what[side]
  return (
    <>
      {ports.map(({ id }) => (
        <NameField
          key={id}
          label={`${text.port(id)}: ${text.portName}`}
          of={text.port(id)}
          value={id}
          apply={(bay, next) => renameTankPort(bay, index, side, id, next)}
        />
      ))}
      {ports.length === 0 && <p className="callout-note">{text.noPorts}</p>}
      <div className="candidate-tools">
        <Button
          className="small"
          onPress={() => step(room.store, text.addPort, (bay) => addTankPort(bay, index, side))}
        >
          {text.addPort}
        </Button>
        {ports.map(({ id }) => (
          <RemoveButton
            key={id}
            label={text.removePort(id)}
            what={text.stubOf(id, tank)}
            removal={(bay) => removeTankPort(bay, index, side, id)}
          />
        ))}
        <RemoveButton label={text.remove[side]} what={tank} removal={(bay) => removeTank(bay, index, side)} />
      </div>
    </>
  )
}
