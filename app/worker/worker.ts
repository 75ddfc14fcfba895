import { expose, transfer } from 'comlink'
import { DeskHere } from './deskHere.ts'
import { transferables } from './drawing.ts'
import type { Ask, Desk } from './protocol.ts'

/** The desk behind a message port: display buffers are handed over, not copied. */
const desk = new DeskHere()

/** Big meshes are first asked through quickly built trees; better ones are made once nothing was asked for a while. */
let rest: ReturnType<typeof setTimeout> | undefined
function rested(): void {
  clearTimeout(rest)
  rest = setTimeout(() => {
    if (desk.betterTree()) rested()
  }, 1500)
}

const handed: Desk = {
  open: (text, name, bytesOf, told) => desk.open(text, name, bytesOf, told),
  watch: (newest) => desk.watch(newest),
  ledger: async (ask, told) => {
    clearTimeout(rest)
    const answer = await desk.ledger(ask, told)
    rested()
    return answer
  },
  bends: (ask) => desk.bends(ask),
  offered: (ask) => desk.offered(ask),
  sketch: async (ask) => {
    const solid = await desk.sketch(ask)
    return solid && transfer(solid, transferables([solid]))
  },
  outlines: async (ask) => {
    const solids = await desk.outlines(ask)
    return transfer(solids, transferables(solids))
  },
  lines: (ask) => desk.lines(ask),
  openMeshes: () => desk.openMeshes(),
  meshFiles: () => desk.meshFiles(),
  inspectMesh: (name, bytes) => desk.inspectMesh(name, bytes),
  keepMesh: (file) => desk.keepMesh(file),
  draw: async (ask: Ask) => {
    const drawing = await desk.draw(ask)
    return transfer(drawing, transferables(drawing.solids))
  },
}
expose(handed)
