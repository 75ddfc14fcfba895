import { useEffect, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Checkbox } from 'react-aria-components/Checkbox'
import { useHere, useWindow } from '../state/context.ts'
import { goTo, nextStop, tightestAt } from '../state/motion.ts'
import type { Motion } from '../state/windowState.ts'
import { words } from '../words.ts'
import { seeAll } from './seeAll.ts'
import { playedOn } from './playing.ts'

const { play: text } = words.seat

const likesStillness = () => matchMedia('(prefers-reduced-motion: reduce)').matches

/** Plays the motion in the drawing, forward and back; stops where it is tightest. */
export function Player() {
  const here = useHere()
  const { store } = here.room
  const motion = useWindow((state) => state.motion)
  const [way, setWay] = useState<1 | -1 | null>(null)
  useFrames(way, () => setWay(null))
  if (!motion) return null
  const { path, least, at, swept } = motion
  const count = path.moves.length
  const play = (wanted: 1 | -1) => {
    if (way === wanted) return setWay(null)
    seeAll(here)
    // From its end it begins again.
    if (wanted > 0 ? at >= count : at <= 0) goTo(store, wanted > 0 ? 0 : count)
    else if (likesStillness()) goTo(store, nextStop(motion, wanted))
    if (!likesStillness()) setWay(wanted)
  }
  const stopAt = (moment: number) => {
    setWay(null)
    seeAll(here)
    goTo(store, moment)
  }
  return (
    <section className="seat-player" aria-label={text.title}>
      <div className="seat-play">
        <Button className="plain" onPress={() => play(-1)}>
          <span aria-hidden="true">{way === -1 ? '❚❚' : '◀'}</span> {way === -1 ? text.pause : text.out}
        </Button>
        <Button className="plain" onPress={() => play(1)}>
          <span aria-hidden="true">{way === 1 ? '❚❚' : '▶'}</span> {way === 1 ? text.pause : text.into}
        </Button>
        <span className="seat-moment">{momentText(motion)}</span>
      </div>
      <input
        className="seat-slider"
        type="range"
        min={0}
        max={count}
        step="any"
        value={at}
        aria-label={text.slider}
        aria-valuetext={momentText(motion)}
        aria-describedby="seat-slider-keys"
        onChange={(event) => stopAt(Number(event.target.value))}
      />
      <p id="seat-slider-keys" className="unseen">
        {text.keys}
      </p>
      <div className="seat-play">
        {least && (
          <Button className="small" onPress={() => stopAt(tightestAt(least))}>
            {text.tightest}
          </Button>
        )}
        <Button className="small" isDisabled={at >= count} onPress={() => stopAt(count)}>
          {text.seat}
        </Button>
        <Checkbox
          className="check"
          isSelected={swept}
          onChange={(on) => store.setState({ motion: { ...motion, swept: on } })}
        >
          <span className="check-box" aria-hidden="true" />
          {text.swept}
        </Checkbox>
      </div>
    </section>
  )
}

/** A step with each frame, for as long as it plays. */
function useFrames(way: 1 | -1 | null, ended: () => void): void {
  const { store } = useHere().room
  // biome-ignore lint/correctness/useExhaustiveDependencies: `ended` is another function in each drawing
  useEffect(() => {
    if (way === null) return
    let last = performance.now()
    let frame = requestAnimationFrame(function step(now) {
      const { motion } = store.getState()
      if (!motion) return ended()
      const next = playedOn(motion, way, Math.max(0, now - last))
      last = now
      goTo(store, next.at)
      if (next.stops) ended()
      else frame = requestAnimationFrame(step)
    })
    return () => cancelAnimationFrame(frame)
  }, [store, way])
}

function momentText({ at, path }: Motion): string {
  if (at >= path.moves.length) return text.atSeat
  return at <= 0 ? text.atStart : text.at(Math.floor(at) + 1, Math.round(100 * (at % 1)))
}
