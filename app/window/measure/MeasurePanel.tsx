import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import { KeepOutCallouts } from '../editors/KeepOutCallouts.tsx'
import { fieldText } from '../editors/quantity.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { AddKeepOut } from './AddKeepOut.tsx'
import { addOpening, addPort } from './adding.ts'
import { BayEditor } from './BayEditor.tsx'
import { OpeningEditor } from './OpeningEditor.tsx'
import { PortEditor } from './PortEditor.tsx'
import { MarkedCallout } from './MarkedCallout.tsx'
import { useGrowing } from './useGrowing.ts'
import { useMeasure } from './useMeasure.ts'

const text = words.measure

/** What is measured: keep-outs, openings, ports, and the frame that all of it stands in. */
export function MeasurePanel() {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  useGrowing()
  if (!bay) return null
  const length = (mm: number) => fieldText(mm, 'length', units)
  const { openings = [], ports = [] } = bay
  return (
    <>
      <div className="measure-tools">
        <AddKeepOut />
      </div>
      <KeepOutCallouts />
      <Section
        title={text.sections.openings}
        none={openings.length === 0 ? text.sections.noOpenings : null}
        kind="opening"
        onAdd={() => addOpening(room)}
      >
        {openings.map(({ id, name, x }, index) => (
          <Item key={id} id={`opening ${id}`} title={name} brief={text.opening.brief(length(x))}>
            <OpeningEditor index={index} />
          </Item>
        ))}
      </Section>
      <Section
        title={text.sections.ports}
        none={ports.length === 0 ? text.sections.noPorts : null}
        kind="port"
        onAdd={() => addPort(room)}
      >
        {ports.map(({ id, name, outsideDiameter }, index) => (
          <Item key={id} id={`port ${id}`} title={name} brief={text.port.brief(length(outsideDiameter))}>
            <PortEditor index={index} />
          </Item>
        ))}
      </Section>
      <section className="callouts measure-bay" aria-label={text.sections.bay}>
        <Item id="bay" title={text.sections.bay} brief={bay.name}>
          <BayEditor />
        </Item>
      </section>
    </>
  )
}

interface SectionProps {
  readonly title: string
  readonly none: string | null
  readonly kind: 'opening' | 'port'
  readonly onAdd: () => void
  readonly children: ReactNode
}

function Section({ title, none, kind, onAdd, children }: SectionProps) {
  return (
    <section className="callouts" aria-label={title}>
      <header className="measure-head">
        <h3>{title}</h3>
        <Button className={`small add-${kind}`} aria-label={text.add[kind]} onPress={onAdd}>
          <span aria-hidden="true">+</span> {text.add.short}
        </Button>
      </header>
      {none !== null && <p className="callouts-none">{none}</p>}
      {children}
    </section>
  )
}

function Item({ id, title, brief, children }: { id: string; title: string; brief: string; children: ReactNode }) {
  const { room } = useHere()
  const open = useMeasure((state) => state.open === id)
  return (
    <MarkedCallout
      row={id}
      title={title}
      brief={brief}
      open={open}
      onOpen={(on) => room.measure.store.setState({ open: on ? id : null })}
    >
      {children}
    </MarkedCallout>
  )
}
