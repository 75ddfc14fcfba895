import type { BendsAnswer, PipeBends } from '../../../core/pipe/answer.ts'
import type { PipeLoss } from '../../../core/pipe/loss.ts'
import { FlowEditor } from '../candidate/FlowEditor.tsx'
import { candidateWords } from '../candidateWords.ts'
import { Explained } from '../explain/Explained.tsx'
import { useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { bandOf, reynoldsOf, speedOf } from './figures.ts'

const { loss: text } = words.pipes

/** Pressure that the flow loses in this pipe and in all of them, as a band between methods. */
export function LossBand({ bends, chain }: { bends: PipeBends; chain: BendsAnswer['chainLoss'] }) {
  const units = useWindow((state) => state.units)
  const hasFlow = useWindow((state) => bayOf(state)?.conditions?.flow !== undefined)
  const { loss } = bends
  return (
    <section className="loss" aria-label={text.title}>
      <h3>{text.title}</h3>
      {loss === null ? (
        <p className="pipe-small">{hasFlow ? text.notSaid : text.noFlow}</p>
      ) : (
        <>
          <p className="loss-band">
            <Explained name="loss">{bandOf(loss, units)}</Explained>
          </p>
          <BandBar loss={loss} chain={chain} />
          <p className="pipe-small">
            {text.state(speedOf(loss.speed, units), reynoldsOf(loss.reynolds), loss.mach?.toFixed(2) ?? null)}
          </p>
          <details>
            <summary>{text.items}</summary>
            <LossItems loss={loss} />
            <p className="pipe-small">{text.spread}</p>
          </details>
        </>
      )}
      <details className="loss-flow">
        <summary>{candidateWords.flow.title}</summary>
        <FlowEditor />
      </details>
      {chain && (
        <p className="loss-chain">
          <span>{text.chain}</span> <b>{bandOf(chain, units)}</b>
        </p>
      )}
    </section>
  )
}

/** The pipe's band on the chain's scale: solid as far as it is lost for certain, hatched where methods differ. */
function BandBar({ loss, chain }: { loss: PipeLoss; chain: BendsAnswer['chainLoss'] }) {
  const most = Math.max(chain?.atMost ?? 0, loss.atMost, 1e-9)
  const share = (pascal: number) => `${((100 * pascal) / most).toFixed(2)}%`
  return (
    <span className="loss-bar" aria-hidden="true">
      <span className="loss-sure" style={{ width: share(loss.atLeast) }} />
      <span className="loss-open" style={{ left: share(loss.atLeast), width: share(loss.atMost - loss.atLeast) }} />
    </span>
  )
}

function LossItems({ loss }: { loss: PipeLoss }) {
  const units = useWindow((state) => state.units)
  return (
    <ul className="loss-items">
      {loss.items.map((item, i) => (
        // Items have no name of their own.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        <li key={i}>
          <span>{item.what === 'bend' && item.point !== undefined ? text.bend(item.point) : text.what[item.what]}</span>
          <b>{bandOf(item, units)}</b>
          <span className="pipe-small">{text.methods(...item.methods)}</span>
        </li>
      ))}
    </ul>
  )
}
