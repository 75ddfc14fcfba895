import type { Candidate } from '../../../core/bay/schema.ts'
import type { MountsJudged } from '../../../core/seat/mountsJudged.ts'
import { jointSentences, jointsToTell } from '../../wording/mountWords.ts'
import { MountEditor } from '../candidate/MountEditor.tsx'
import { candidateWords } from '../candidateWords.ts'
import { keepOutName, partName } from '../ledger/names.ts'
import { MarkedCallout } from '../measure/MarkedCallout.tsx'
import { useWindow } from '../state/context.ts'
import { mountsIn } from '../state/seat.ts'
import { bayOf, candidateIn, candidateIndex } from '../state/windowState.ts'
import { words } from '../words.ts'
import { AddMount } from './AddMount.tsx'
import { Fixings } from './Fixings.tsx'
import { useOpened } from './useOpened.ts'

const { mounts: text } = words.seat
const { mount: made } = candidateWords
type Judged = MountsJudged['mounts'][number]

const verdictOf: Record<Judged['verdict'], string> = {
  'goes on': 'clears',
  'goes on by root-sum-square': 'unproved',
  'does not go on': 'short',
}

/** Brackets and pins, each opening into its own numbers, and the fixings of the car that they go onto. */
export function Mounts() {
  const candidate = useWindow(candidateIn)
  const index = useWindow(candidateIndex)
  if (!candidate) return null
  return (
    <>
      <MountList key={`mounts ${candidate.id}`} candidate={candidate} index={index} />
      <Fixings key={`fixings ${candidate.id}`} candidate={candidate} />
    </>
  )
}

/** Whether brackets and pins go on with all tolerances, and what to measure or make better where they do not. */
function MountList({ candidate, index }: { candidate: Candidate; index: number }) {
  const judged = useWindow(mountsIn)
  const mounts = candidate.mounts ?? []
  const { open, setOpen, openFresh } = useOpened(
    mounts.map(({ id }) => id),
    'mount',
  )
  return (
    <section className="seat-mounts" aria-label={text.title}>
      <header className="pipe-part-head">
        <h3>{text.title}</h3>
      </header>
      {mounts.length === 0 && <p className="callout-note">{made.none}</p>}
      <ul>
        {mounts.map((mount) => {
          const found = judged?.mounts.find((each) => each.mount === mount.id)
          return (
            <li key={mount.id} className="seat-mount" data-mount={mount.id}>
              <MarkedCallout
                row={`mount ${mount.id}`}
                title={mount.name}
                brief={found ? <Verdict verdict={found.verdict} /> : made.notJudged}
                open={open === mount.id}
                onOpen={(on) => setOpen(on ? mount.id : null)}
              >
                <MountEditor candidate={candidate} index={index} mount={mount} />
              </MarkedCallout>
              {found && <Told mount={found} candidate={candidate} />}
            </li>
          )
        })}
      </ul>
      <AddMount candidate={candidate} index={index} onAdded={openFresh} />
    </section>
  )
}

function Verdict({ verdict }: Pick<Judged, 'verdict'>) {
  const { mark, text: said } = text.verdict[verdict]
  return (
    <span className={`verdict-${verdictOf[verdict]}`}>
      <span aria-hidden="true">{mark}</span> {said}
    </span>
  )
}

/** What is to be measured or made better at the joints that do not go on. */
function Told({ mount, candidate }: { mount: Judged; candidate: Candidate }) {
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  const fixing = (id: string) => bay?.fixings?.find((each) => each.id === id)?.name ?? id
  const obstacle = (name: string) =>
    /^(core|tank|stub|pipe|mount|coupler|clamp)/.test(name) && !bay?.keepOuts.some(({ id }) => id === name)
      ? partName(candidate, name)
      : keepOutName(bay, name)
  return jointsToTell(mount.joints).map((joint) =>
    jointSentences(joint, { fixing, obstacle }, units).map((each) => (
      <p key={`${joint.fixing} ${each}`} className="pipe-small">
        {each}
      </p>
    )),
  )
}
