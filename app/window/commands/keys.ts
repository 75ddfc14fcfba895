import type { Here } from '../state/context.ts'
import type { Command } from './command.ts'
import { commands } from './list.ts'

type Pressed = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>

/** A key press as commands write it: 'Ctrl+Shift+Z'. Command on a Mac counts as Ctrl; '?' needs no Shift before it. */
export function keyName({ key, ctrlKey, metaKey, shiftKey, altKey }: Pressed): string {
  const name = key.length === 1 ? key.toUpperCase() : key
  const letter = /^[A-Z]$/.test(name)
  const shift = shiftKey && (letter || name.length > 1)
  return [ctrlKey || metaKey ? 'Ctrl' : '', altKey ? 'Alt' : '', shift ? 'Shift' : '', name]
    .filter((part) => part !== '')
    .join('+')
}

export function commandFor(pressed: Pressed): Command | undefined {
  const name = keyName(pressed)
  return commands.find(({ keys }) => keys.includes(name))
}

/** Whether the focus is where letters are typed. */
function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    (target.matches('input:not([type="range"]), textarea, select') || target.isContentEditable)
  )
}

/** Text that is not in the bay yet undoes itself first; see `FigureField`. */
function hasDraft(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.dataset.draft !== undefined
}

/** Listens for the commands' keys, before any list takes letters for a search. @returns what ends the listening */
export function listenForKeys(here: Here): () => void {
  const onKey = (event: KeyboardEvent) => {
    const command = commandFor(event)
    if (!command || event.defaultPrevented) return
    const plain = !event.ctrlKey && !event.metaKey && !/^F\d+$/.test(event.key)
    if (plain && (isTyping(event.target) || isIn(event.target, dialogs))) return
    const steps = command.name === 'undo' || command.name === 'redo'
    if (steps && hasDraft(event.target)) return
    // What a dialog shows of the bay goes back with it; a question stands about the bay as it is.
    if (isIn(event.target, steps ? question : dialogs)) return
    event.preventDefault()
    event.stopPropagation()
    if (command.enabled?.(here) ?? true) command.perform(here)
  }
  document.addEventListener('keydown', onKey, true)
  return () => document.removeEventListener('keydown', onKey, true)
}

const question = '[role="alertdialog"], [role="menu"]'
const dialogs = `[role="dialog"], ${question}`

const isIn = (target: EventTarget | null, what: string): boolean =>
  target instanceof Element && target.closest(what) !== null
