import { Button } from 'react-aria-components/Button'
import { useHere } from '../state/context.ts'
import { words } from '../words.ts'
import { exampleIds, fetchExample, type ExampleId } from './examples.ts'
import { isNewHere, rememberToured } from './remembered.ts'

const { examples: text } = words.tour

/** On the empty paper: the two examples; the first time one is opened, the way round begins. */
export function ExampleChoice() {
  const { room } = useHere()
  const open = async (id: ExampleId) => {
    const shown = await room.openExample(() => fetchExample(id))
    if (!shown || !isNewHere()) return
    rememberToured()
    room.aids.setState({ tour: 0 })
  }
  return (
    <section className="examples" aria-labelledby="examples-title">
      <h2 id="examples-title">
        {text.title} <span className="examples-note">{text.note}</span>
      </h2>
      <div className="examples-cards">
        {exampleIds.map((id) => (
          <Button key={id} className="example" onPress={() => void open(id)}>
            <b>{text[id]}</b>
            <span>{text[`${id}Text`]}</span>
          </Button>
        ))}
      </div>
    </section>
  )
}
