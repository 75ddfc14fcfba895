import { Button } from 'react-aria-components/Button'
import { Menu, MenuItem, MenuTrigger } from 'react-aria-components/Menu'
import { Popover } from 'react-aria-components/Popover'
import { candidateWords } from '../candidateWords.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf, candidateIndex, type WindowStore } from '../state/windowState.ts'
import { type Added, addCandidate, copyCandidate, removeCandidate, shiftCandidate } from './candidateEdits.ts'
import { step } from '../editors/doing.ts'

const { candidate: text } = candidateWords

/** A candidate made, in one step, and looked at with its core open. */
function make(store: WindowStore, made: Added): void {
  const name = made.bay.candidates.find(({ id }) => id === made.id)?.name ?? ''
  if (step(store, text.added(name), () => made.bay) !== null) return
  store.setState({ candidate: made.id, selected: null, stage: 'core', openItem: { side: 'part', key: 'core' } })
}

/** The first candidate of a bay that has none yet. */
export function NoCandidate() {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  if (!bay) return null
  return (
    <section className="no-candidate" aria-label={text.none.title}>
      <h2>{text.none.title}</h2>
      <p>{text.none.text}</p>
      <Button className="main" onPress={() => make(room.store, addCandidate(bay))}>
        {text.none.add}
      </Button>
    </section>
  )
}

/** What can be done with candidates: added, copied, put in another order, deleted. */
export function CandidateMenu() {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const index = useWindow(candidateIndex)
  if (!bay || index < 0) return null
  const { name } = bay.candidates[index]
  const off = [...(index === 0 ? ['earlier'] : []), ...(index === bay.candidates.length - 1 ? ['later'] : [])]
  const { store } = room
  return (
    <MenuTrigger>
      <Button className="candidate" aria-label={text.menu}>
        <span aria-hidden="true">▾</span>
      </Button>
      <Popover className="popover" placement="bottom start">
        <Menu className="choices" aria-label={text.menu} disabledKeys={off}>
          <MenuItem className="choice" onAction={() => make(store, addCandidate(bay))}>
            {text.add}
          </MenuItem>
          <MenuItem className="choice" onAction={() => make(store, copyCandidate(bay, index))}>
            {text.copy}
          </MenuItem>
          <MenuItem
            id="earlier"
            className="choice"
            onAction={() => step(store, text.shifted(name), (whole) => shiftCandidate(whole, index, -1))}
          >
            {text.earlier}
          </MenuItem>
          <MenuItem
            id="later"
            className="choice"
            onAction={() => step(store, text.shifted(name), (whole) => shiftCandidate(whole, index, 1))}
          >
            {text.later}
          </MenuItem>
          <MenuItem
            className="choice"
            onAction={() => step(store, text.removed(name), (whole) => removeCandidate(whole, index))}
          >
            {text.remove}
          </MenuItem>
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}
