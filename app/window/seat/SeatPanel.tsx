import { useEffect } from 'react'
import { faultTexts } from '../../wording.ts'
import { useHere, useWindow } from '../state/context.ts'
import { judgedStanding, seatFaults, settingIn } from '../state/seat.ts'
import { candidateIn, type Motion } from '../state/windowState.ts'
import { words } from '../words.ts'
import { Mounts } from './Mounts.tsx'
import { MoveList } from './MoveList.tsx'
import { Player } from './Player.tsx'
import { SeatSearch } from './SeatSearch.tsx'
import { Setting } from './Setting.tsx'
import { useWays } from './useWays.ts'
import { WayChoice } from './WayChoice.tsx'

const { seat: text } = words
const none: readonly string[] = []

/** Offering up the candidate: a way in found or typed, proved, and played; what comes off for it, and its mounts. */
export function SeatPanel() {
  const candidate = useWindow(candidateIn)
  const standing = useWindow(judgedStanding)
  const faults = useWindow(seatFaults)
  const { ways, shown } = useWays()
  useMotion()
  if (!candidate) return null
  return (
    <section className="seat" aria-label={text.title} data-state={standing}>
      {faults.length > 0 && (
        <div className="pipe-faults" role="alert">
          {faultTexts(faults).map((said) => (
            <p key={said}>{said}</p>
          ))}
        </div>
      )}
      <SeatSearch hasOwn={candidate.offering !== undefined} />
      {shown && (
        <>
          <WayChoice ways={ways} shown={shown} candidate={candidate} />
          <Player />
          <MoveList way={shown} candidate={candidate} />
        </>
      )}
      <Setting />
      <Mounts />
    </section>
  )
}

/** The drawing plays the way that is looked at, for as long as the stage is shown. */
function useMotion(): void {
  const { room } = useHere()
  const { shown } = useWays()
  const moving = useWindow((state) => settingIn(state)?.withPart ?? none)
  const [path, least] = [shown?.path, shown?.least ?? null]
  useEffect(() => {
    room.store.setState(({ motion }) => ({
      motion: path ? { path, least, moving, at: momentOn(path, motion), swept: motion?.swept ?? false } : null,
    }))
  }, [room, path, least, moving])
  useEffect(() => () => room.store.setState({ motion: null }), [room])
}

/** Where it was on the way before; at its seat where it was there, or nowhere yet. */
function momentOn({ moves }: Motion['path'], before: Motion | null): number {
  if (before === null || before.at >= before.path.moves.length) return moves.length
  return Math.min(before.at, moves.length)
}
