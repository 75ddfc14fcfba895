import { useMemo, useRef, useState } from 'react'
import { useStore } from 'zustand'
import type { Grip, GripGroup } from '../../../core/bay/grips/grip.ts'
import { handleWords } from '../handleWords.ts'
import { useHere, useWindow } from '../state/context.ts'
import { stageIn } from '../state/pipes.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import type { Frame, Rig } from '../viewport/camera.ts'
import { zoomBelow } from '../viewport/zoomBelow.ts'
import { EntryBox } from './EntryBox.tsx'
import { giveValue, isSameValue, newVisit } from './giving.ts'
import { Handle } from './Handle.tsx'
import { canSlide, canTurn } from './pull.ts'
import { type Thing, thingIn } from './thing.ts'
import { type InHand, useGripDrag } from './useGripDrag.ts'

/** Over the drawing: what the candidate, or the keep-out that is open, is taken hold of by. */
export function HandleLayer() {
  const { eye } = useHere()
  const thing = useThing()
  const view = useWindow((state) => state.view)
  const rig = useStore(eye.store, (state) => state.rigs[view])
  const frame = useStore(eye.store, (state) => state.frame)
  return thing && <Handles key={thing.key} thing={thing} rig={rig} frame={frame} />
}

function useThing(): Thing | null {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const stage = useWindow(stageIn)
  const openItem = useWindow((state) => state.openItem)
  const isMoving = useWindow((state) => state.motion !== null)
  const drawn = useStore(
    room.scene,
    ({ keepOuts }) => keepOuts.find(({ key }) => key === openItem?.key)?.bounds ?? null,
  )
  // All that `thingIn` looks at of the state.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  return useMemo(
    () => thingIn(room.store.getState(), () => drawn),
    [room, bay, candidate, stage, openItem, isMoving, drawn],
  )
}

const groups: readonly GripGroup[] = ['move', 'turn', 'size', 'points']

/** The one whose number is typed, and what was typed to begin with. */
interface Entry {
  readonly id: string
  readonly begun: string
}

function Handles({ thing, rig, frame }: { thing: Thing; rig: Rig; frame: Frame }) {
  const { room } = useHere()
  const [hand, setHand] = useState<InHand | null>(null)
  const [entry, setEntry] = useState<Entry | null>(null)
  /** Of each group the one that the tabulator key comes to. */
  const [stops, setStops] = useState<Partial<Record<GripGroup, string>>>({})
  const layer = useRef<HTMLDivElement>(null)
  const now = useRef<Thing | null>(thing)
  now.current = thing
  const begin = useGripDrag(() => thingIn(room.store.getState(), () => null) ?? now.current, rig, setHand)
  const shown = gripsShown(thing, hand).filter((grip) => canPull(grip, rig))
  const set = shown.find(({ id }) => id === entry?.id)
  const focus = (id: string) => layer.current?.querySelector<HTMLElement>(`[data-grip="${id}"]`)?.focus()
  return (
    <div ref={layer} className={`handles handles-${thing.item.side}`} data-dragging={hand?.id} onWheel={zoomBelow}>
      <p id="handle-keys" className="unseen">
        {handleWords.keys}
      </p>
      {groups.map((group) => {
        const own = shown.filter((grip) => grip.group === group)
        if (own.length === 0) return null
        const stop = own.some(({ id }) => id === stops[group]) ? stops[group] : own[0].id
        return (
          // biome-ignore lint/a11y/useSemanticElements: a fieldset would be a box of its own in the drawing
          <div key={group} role="group" aria-label={handleWords.groups[group]}>
            {own.map((grip, i) => (
              <Handle
                key={grip.id}
                thing={thing}
                grip={grip}
                hand={hand?.id === grip.id ? hand : null}
                isStop={grip.id === stop}
                rig={rig}
                frame={frame}
                onPress={begin}
                onFocus={() => setStops((all) => ({ ...all, [group]: grip.id }))}
                onType={(begun) => setEntry({ id: grip.id, begun })}
                onGo={(to) =>
                  focus(
                    own[to === 'first' ? 0 : to === 'last' ? own.length - 1 : (i + to + own.length) % own.length].id,
                  )
                }
              />
            ))}
          </div>
        )
      })}
      {set && entry && (
        <EntryBox
          thing={thing}
          grip={set}
          begun={entry.begun}
          rig={rig}
          frame={frame}
          onSet={(value) =>
            isSameValue(value, set.value)
              ? { ok: true, value: null }
              : giveValue(room.store, thing, set.id, value, set.value, newVisit())
          }
          onClose={(refocus) => {
            setEntry(null)
            if (refocus) requestAnimationFrame(() => focus(set.id))
          }}
        />
      )}
    </div>
  )
}

/** Handles go along with the hand, also before the bay has followed. */
function gripsShown({ grips }: Thing, hand: InHand | null): readonly Grip<unknown>[] {
  if (!hand) return grips
  return grips.map((grip) => (grip.id === hand.id ? pulled(grip, hand) : grip))
}

function pulled(grip: Grip<unknown>, { value }: InHand): Grip<unknown> {
  if (grip.kind === 'place' && typeof value !== 'number') {
    const [x, y, z] = grip.at.map((mm, k) => mm + value[k] - grip.value[k])
    return { ...grip, at: [x, y, z], value }
  }
  if (grip.kind === 'slide' && typeof value === 'number') {
    // Of a resized box the pulled face goes as far as the size grows.
    const [x, y, z] = grip.at.map((mm, k) => mm + grip.way[k] * (value - grip.value))
    return { ...grip, at: [x, y, z], value }
  }
  return grip.kind === 'turn' && typeof value === 'number' ? { ...grip, value } : grip
}

function canPull(grip: Grip<unknown>, rig: Rig): boolean {
  if (grip.kind === 'place') return true
  return grip.kind === 'slide' ? canSlide(grip.way, rig) : canTurn(grip.axis, rig)
}
