import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Switch } from 'react-aria-components/Switch'
import { pipesAt } from '../../../core/bay/freshKeepOut.ts'
import type { Port } from '../../../core/bay/schema.ts'
import { mirrorId } from '../../../core/bay/sense.ts'
import type { FigureSpec } from '../editors/figure.ts'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import { Picker } from '../editors/Picker.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { ItemText } from './ItemText.tsx'
import { directionGroup, pointGroup } from './shapeGroups.ts'
import { focusSoon, useFresh } from './useFresh.ts'

const text = words.measure
/** Stands for no keep-out in the list; no id can be like it. */
const nothing = ' '

/** A place on the car where a pipe must end. */
export function PortEditor({ index }: { index: number }) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const [refused, setRefused] = useState<string | null>(null)
  const port = bay?.ports?.[index]
  const isFresh = useFresh(`port ${port?.id}`)
  if (!bay || !port) return null
  const path = ['ports', index]
  const base = { of: port.name, path }
  const one = (label: string, field: string, more: Partial<FigureSpec> = {}): FigureSpec => ({
    of: port.name,
    label,
    path: [...path, field],
    quantity: 'length',
    ...more,
  })
  const sizes = {
    figures: [
      one(text.port.diameter, 'outsideDiameter'),
      one(text.port.spigot, 'spigot', { optional: true, emptyText: words.field.none }),
      one(text.port.movement, 'movement', { otherwise: 0 }),
    ],
  }
  const remove = () => {
    const pipes = pipesAt(bay, port.id)
    if (pipes.length > 0) return setRefused(text.item.portInUse(pipes.join('; ')))
    doEdit(room.store, {
      name: 'remove-port',
      label: text.removed(port.name),
      undo: 'step',
      apply: (whole) => withField(whole, whole.ports?.length === 1 ? ['ports'] : path, undefined),
    })
    focusSoon('.add-port')
  }
  return (
    <>
      <ItemText label={text.item.name} path={[...path, 'name']} of={port.name} focused={isFresh} />
      <FigureGroups
        groups={[pointGroup(base, text.port.at, 'at'), directionGroup(base, text.port.direction, 'direction'), sizes]}
      />
      <SitsOn port={port} index={index} />
      <Bead port={port} index={index} />
      {refused && (
        <p className="figure-fault" role="alert">
          {refused}
        </p>
      )}
      <div className="item-actions">
        <Button className="small" onPress={remove}>
          {text.item.remove}
        </Button>
      </div>
    </>
  )
}

function SitsOn({ port, index }: { port: Port; index: number }) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const choices = [
    { id: nothing, text: text.port.nothing },
    ...(bay?.keepOuts ?? []).flatMap(({ id, name, mirror }) => [
      { id, text: name },
      ...(mirror ? [{ id: mirrorId(id), text: words.keepOut.mirrored(name) }] : []),
    ]),
  ]
  return (
    <Picker
      label={text.port.sitsOn}
      value={port.sitsOn ?? nothing}
      choices={choices}
      onChange={(id) =>
        doEdit(room.store, {
          name: 'sits-on',
          label: text.changed(
            port.name,
            text.port.sitsOn.toLowerCase(),
            choices.find((one) => one.id === id)?.text ?? '',
          ),
          undo: 'step',
          apply: (whole) => withField(whole, ['ports', index, 'sitsOn'], id === nothing ? undefined : id),
        })
      }
    />
  )
}

/** A bead as tubes of common make have it, mm. Common practice, no source. */
const firstBead = { height: 2, width: 5, fromEnd: 4 }

function Bead({ port, index }: { port: Port; index: number }) {
  const { room } = useHere()
  const path = ['ports', index, 'bead']
  const figures = (
    [
      [text.port.beadHeight, 'height'],
      [text.port.beadWidth, 'width'],
      [text.port.beadFromEnd, 'fromEnd'],
    ] as const
  ).map(
    ([label, field]): FigureSpec => ({
      of: `${port.name}, ${text.port.bead.toLowerCase()}`,
      label,
      path: [...path, field],
      quantity: 'length',
    }),
  )
  return (
    <>
      <Switch
        className="in-place"
        isSelected={port.bead !== undefined}
        onChange={(on) =>
          doEdit(room.store, {
            name: 'bead',
            label: text.changed(
              port.name,
              text.port.bead.toLowerCase(),
              on ? text.port.hasBead.toLowerCase() : words.field.none,
            ),
            undo: 'step',
            apply: (bay) => withField(bay, path, on ? firstBead : undefined),
          })
        }
      >
        <span className="switch-box" aria-hidden="true" />
        {text.port.hasBead}
      </Switch>
      {port.bead && <FigureGroups groups={[{ title: text.port.bead, figures }]} />}
    </>
  )
}
