import type { Meeting } from '../../core/verdict/meeting.ts'
import { LedgerMemory } from '../../core/verdict/memory.ts'
import type { Clearance } from '../../core/clearance/answer.ts'
import { improveTree } from '../../core/clearance/meshTree.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { keepOutSolids } from '../../core/bay/keepOuts.ts'
import { readBay } from '../../core/bay/read.ts'
import type { KeepOutSolid, Meshes } from '../../core/bay/part.ts'
import { ownMeshBounds } from '../../core/shape/bounds.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { bends } from '../../core/pipe/bends.ts'
import { judgeMounts } from '../../core/seat/mountsJudged.ts'
import { seat } from '../../core/seat/seat.ts'
import { type SeatSubject, seatSubject } from '../../core/seat/subject.ts'
import { type Drawing as LineDrawing, drawing, drawnThings } from '../../core/sheet/drawing/drawing.ts'
import { views } from '../../core/sheet/drawing/view.ts'
import { candidateOf, ledger } from '../../core/verdict/ledger.ts'
import { type LoadedMesh, loadBayMeshes, loadMesh } from '../files/bayMeshes.ts'
import type { MeshFile } from '../sheet/settings.ts'
import { Draughtsman } from './drawing.ts'
import { meshFileOf } from './meshFile.ts'
import type {
  Answer,
  Ask,
  BendsReply,
  BytesOf,
  Desk,
  Drawing,
  DrawnSolid,
  LinesAsk,
  MeshNote,
  Opened,
  Progress,
  SeatAsk,
  SeatJudged,
  SeatReply,
  SeatSetting,
  Sketch,
  Told,
} from './protocol.ts'

/** Nothing is said about work that is done before this, ms. */
const quietFor = 200
/** Between two messages about the same work, ms. */
const pause = 100

/** The desk itself; `worker.ts` puts it behind a message port. */
export class DeskHere implements Desk {
  private meshes = new Map<string, Mesh>()
  private files = new Map<string, MeshFile>()
  private inspected: (LoadedMesh & { readonly from: MeshFile }) | null = null
  private memory = new WatchedMemory()
  private draughtsman = new Draughtsman(this.meshes, this.memory.workshop)
  private newest: Int32Array | null = null
  /** Meshes as the keep-outs hold them, in mm. */
  private used: readonly Mesh[] = []
  /** A mesh was added since: it is looked for in the bay that was drawn last. */
  private drawn: Bay | null = null
  private isUsedOld = false

  async watch(newest: SharedArrayBuffer): Promise<void> {
    this.newest = new Int32Array(newest)
  }

  async open(text: string, name: string, bytesOf: BytesOf, told: Told): Promise<Outcome<Opened>> {
    told({ doing: 'reading' })
    const bay = readBay(text, name)
    if (!bay.ok) return bay
    const files = new Map<string, MeshFile>()
    const loaded = await loadBayMeshes(bay.value, async (file) => {
      told({ doing: 'mesh', what: file })
      const bytes = await bytesOf(file)
      if (bytes.ok) files.set(file, await meshFileOf(bytes.value))
      return bytes
    })
    if (!loaded.ok) return loaded
    const memory = new WatchedMemory()
    told({ doing: 'solids' })
    // A bay whose keep-outs cannot be made is refused whole; a candidate that cannot is shown, to be put right here.
    const solids = keepOutSolids(bay.value, loaded.value.meshes, memory.workshop)
    if (!solids.ok) return bad(...solids.faults.map((fault) => ({ file: name, ...fault })))
    this.meshes = new Map(loaded.value.meshes)
    this.files = files
    this.memory = memory
    this.draughtsman = new Draughtsman(this.meshes, this.memory.workshop)
    this.used = meshesIn(solids.value)
    this.isUsedOld = false
    return good({
      bay: bay.value,
      meshes: [...loaded.value.loaded].map(([file, mesh]) => [file, noteOf(mesh)] as const),
    })
  }

  /**
   * Puts a good tree in the place of a quick one, one mesh at a time: for when nobody asks for anything.
   * @returns whether there was one to better
   */
  betterTree(): boolean {
    const solids = this.isUsedOld && this.drawn ? keepOutSolids(this.drawn, this.meshes, this.memory.workshop) : null
    if (solids?.ok) this.used = meshesIn(solids.value)
    this.isUsedOld = false
    return this.used.some((mesh) => improveTree(mesh))
  }

  /** How many solids and the like are kept for the next edit. */
  get kept(): number {
    return this.memory.workshop.size
  }

  async openMeshes(): Promise<Meshes> {
    return this.meshes
  }

  async meshFiles(): Promise<ReadonlyMap<string, MeshFile>> {
    return this.files
  }

  async inspectMesh(name: string, bytes: Uint8Array): Promise<Outcome<MeshNote>> {
    const loaded = await loadMesh(name, bytes)
    this.inspected = loaded.ok ? { ...loaded.value, from: await meshFileOf(bytes) } : null
    return loaded.ok ? good(noteOf(loaded.value)) : loaded
  }

  async keepMesh(file: string): Promise<MeshNote | null> {
    const { inspected } = this
    if (!inspected) return null
    // The very map that the drawing reads from; a mesh that another keep-out has by this name is the same.
    if (!this.meshes.has(file)) {
      this.meshes.set(file, inspected.mesh)
      this.files.set(file, inspected.from)
    }
    this.inspected = null
    this.isUsedOld = true
    return noteOf(inspected)
  }

  async draw({ bay, candidate }: Ask): Promise<Drawing> {
    this.drawn = bay
    return this.draughtsman.draw(bay, candidate)
  }

  async sketch({ bay, candidate, pipe }: Sketch): Promise<DrawnSolid | null> {
    return this.draughtsman.sketch(bay, candidate, pipe)
  }

  async outlines({ bay, candidate }: Pick<Sketch, 'bay' | 'candidate'>): Promise<readonly DrawnSolid[]> {
    return this.draughtsman.outlines(bay, candidate)
  }

  async lines({ bay, candidate, view }: LinesAsk): Promise<Outcome<LineDrawing>> {
    const meant = candidate === null ? good(null) : candidateOf(bay, candidate)
    const things = meant.ok ? drawnThings(bay, meant.value, this.meshes, this.memory.workshop) : meant
    return things.ok ? good(drawing(things.value, views[view])) : things
  }

  async bends({ bay, candidate, ticket }: Ask): Promise<BendsReply> {
    const begin = performance.now()
    if (this.isOld(ticket)) return { kind: 'superseded' }
    const meant = candidateOf(bay, candidate)
    const answer = meant.ok ? bends(bay, meant.value.id, this.meshes, { workshop: this.memory.workshop }) : meant
    return { kind: 'answered', bends: answer, milliseconds: performance.now() - begin }
  }

  async offered({ bay, candidate, ticket, need }: SeatAsk): Promise<SeatReply> {
    const begin = performance.now()
    const judged = this.unlessOld(
      ticket,
      () => {},
      () => this.judgedSeat(bay, candidate, need),
    )
    return judged ? { kind: 'answered', judged, milliseconds: performance.now() - begin } : { kind: 'superseded' }
  }

  private judgedSeat(bay: Bay, candidate: string | undefined, need: number): SeatJudged {
    const meant = candidateOf(bay, candidate)
    if (!meant.ok) return { setting: meant, way: null, mounts: null }
    const { id, offering, mounts = [] } = meant.value
    const { meshes, memory } = this
    return {
      setting: settingOf(seatSubject(bay, id, meshes, { need, workshop: memory.workshop })),
      way: offering ? seat(bay, id, meshes, { need, moves: offering }, memory) : null,
      mounts: mounts.length > 0 ? judgeMounts(bay, meant.value, meshes, memory) : null,
    }
  }

  async ledger({ bay, candidate, ticket }: Ask, told: Told): Promise<Answer> {
    const begin = performance.now()
    const found = this.unlessOld(ticket, told, () => ledger(bay, candidate, this.meshes, this.memory))
    // A ledger ends its round itself. Were rounds that are given up not ended, a long drag would pile up solids.
    if (!found) this.memory.workshop.clear()
    return found ? { kind: 'answered', ledger: found, milliseconds: performance.now() - begin } : { kind: 'superseded' }
  }

  /** Does something with the memory, and gives it up as soon as a newer ticket was given out. */
  private unlessOld<T>(ticket: number, told: Told, work: () => T): T | null {
    const superseded = () => this.isOld(ticket)
    if (superseded()) return null
    try {
      return this.memory.watched(superseded, patient(told), work)
    } catch (error) {
      if (error instanceof Superseded) return null
      throw error
    }
  }

  private isOld(ticket: number): boolean {
    return this.newest !== null && Atomics.load(this.newest, 0) !== ticket
  }
}

function settingOf(made: Outcome<SeatSubject>): Outcome<SeatSetting> {
  if (!made.ok) return made
  const { withPart, after, off, leftOut, exempt, keepOuts } = made.value
  return good({ withPart, after, off, leftOut, exempt, stays: keepOuts.map(({ id }) => id) })
}

class Superseded extends Error {}

/** Between two pairs there is time to see that nobody wants the answer any more, and to say how far it has come. */
class WatchedMemory extends LedgerMemory {
  private superseded = () => false
  private tell: Told = () => {}
  private done = 0

  watched<T>(superseded: () => boolean, tell: Told, work: () => T): T {
    this.superseded = superseded
    this.tell = tell
    this.done = 0
    return work()
  }

  override measure(candidate: string, meeting: Meeting): Clearance {
    if (this.superseded()) throw new Superseded()
    this.tell({ doing: 'gaps', what: String(this.done++) })
    return super.measure(candidate, meeting)
  }
}

/** Keeps quiet about what is soon done, and does not chatter. */
function patient(told: Told): Told {
  let next = performance.now() + quietFor
  return (progress: Progress) => {
    const now = performance.now()
    if (now < next) return
    next = now + pause
    told(progress)
  }
}

const meshesIn = (solids: readonly KeepOutSolid[]): Mesh[] =>
  solids.flatMap(({ solid }) => solid.forms.flatMap((form) => (form.form === 'mesh' ? [form.mesh] : [])))

const noteOf = ({ mesh, report, format }: LoadedMesh): MeshNote => ({
  format,
  triangles: report.triangles,
  closed: report.closed,
  openEdges: report.openEdges,
  components: report.components,
  dropped: report.dropped.repeatedCorner + report.dropped.zeroArea,
  turnedBack: report.turnedBack,
  bounds: ownMeshBounds(mesh),
})
