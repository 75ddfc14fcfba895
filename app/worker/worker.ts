import { expose, transfer } from 'comlink'
import { DeskHere } from './deskHere.ts'
import { transferables } from './drawing.ts'
import type { Ask, Desk } from './protocol.ts'

/** The desk behind a message port: display buffers are handed over, not copied. */
const desk = new DeskHere()
const offered: Desk = {
  open: (text, name, bytesOf, told) => desk.open(text, name, bytesOf, told),
  watch: (newest) => desk.watch(newest),
  ledger: (ask, told) => desk.ledger(ask, told),
  openMeshes: () => desk.openMeshes(),
  draw: async (ask: Ask) => {
    const drawing = await desk.draw(ask)
    return transfer(drawing, transferables(drawing))
  },
}
expose(offered)
