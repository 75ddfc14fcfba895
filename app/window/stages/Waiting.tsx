import { useEffect, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { ProgressBar } from 'react-aria-components/ProgressBar'
import type { Progress } from '../../worker/protocol.ts'
import { commandNamed } from '../commands/list.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { ExampleChoice } from '../tour/ExampleChoice.tsx'
import { words } from '../words.ts'

/** What stands in the middle while no bay is there. */
export function EmptyPaper() {
  const here = useHere()
  const show = useWindow((state) => bayOf(state) === null && state.reading === null && state.started)
  if (!show) return null
  return (
    <div className="empty">
      <h1>{words.empty.title}</h1>
      <p>{words.empty.text}</p>
      <div className="empty-buttons">
        <Button className="main" onPress={() => commandNamed('open').perform(here)}>
          {words.empty.open}
        </Button>
        <Button className="plain" onPress={() => commandNamed('new').perform(here)}>
          {words.measure.begin.command}
        </Button>
      </div>
      <ExampleChoice />
    </div>
  )
}

/** Nothing is said about a bay that is read at once, ms. */
const patience = 200

/** A bay is being read: what of it, and a way out. */
export function ReadingPaper() {
  const { room } = useHere()
  const reading = useWindow((state) => state.reading)
  const name = reading?.name ?? null
  const [late, setLate] = useState(false)
  useEffect(() => {
    setLate(false)
    if (name === null) return
    const timer = setTimeout(() => setLate(true), patience)
    return () => clearTimeout(timer)
  }, [name])
  if (!reading || !late) return null
  const doing = doingText(reading.progress)
  return (
    <div className="reading" role="status">
      <ProgressBar className="progress" isIndeterminate aria-label={words.reading.title(reading.name)}>
        <span className="progress-bar" />
      </ProgressBar>
      <p className="reading-title">{words.reading.title(reading.name)}</p>
      <p className="reading-what">{doing}</p>
      <Button className="plain" onPress={() => room.stop()}>
        {words.reading.cancel}
      </Button>
    </div>
  )
}

function doingText(progress: Progress | null): string {
  if (progress?.doing === 'mesh') return words.reading.mesh(progress.what ?? '')
  if (progress?.doing === 'solids') return words.reading.solids
  return words.reading.bay
}
