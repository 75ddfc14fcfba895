import { proxy, type Remote, transfer, wrap } from 'comlink'
import type { Meshes } from '../../../core/bay/part.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { bad, type Fault, FaultError, type Outcome } from '../../../core/fault.ts'
import type { Drawing as LineDrawing } from '../../../core/sheet/drawing/drawing.ts'
import type { Host } from '../../host.ts'
import type { MeshFile } from '../../sheet/settings.ts'
import type {
  Answer,
  BendsReply,
  Desk,
  DrawnSolid,
  Drawing,
  LinesAsk,
  MeshNote,
  Opened,
  Progress,
  SeatReply,
  Sketch,
} from '../../worker/protocol.ts'

/** What the link tells of its work. Never called for a bay that a newer one has replaced. */
export interface DeskListener {
  drawn(drawing: Drawing): void
  answered(bay: Bay, candidate: string | null, answer: Exclude<Answer, { kind: 'superseded' }>): void
  bent(bay: Bay, candidate: string | null, reply: Exclude<BendsReply, { kind: 'superseded' }>): void
  seated(bay: Bay, candidate: string | null, need: number, reply: Exclude<SeatReply, { kind: 'superseded' }>): void
  computing(progress: Progress | null): void
  /** All asked for is answered, or given up. */
  rested(): void
  /** The worker broke; it was started anew and has to be given the bay again. */
  broke(words: string): void
}

export interface Wanted {
  readonly bay: Bay
  readonly candidate: string | null
  /** Wanted on the way to the seat, mm; null where nobody asks after the seat. */
  readonly need: number | null
}

/**
 * The window's end of the worker. Of what is asked, the newest wins: while one ledger is computed at most one other
 * waits, and the one under way is stopped through shared memory where the page has it.
 */
export class DeskLink {
  private readonly startWorker: () => Worker
  private readonly listener: DeskListener
  private worker: Worker | null = null
  private desk: Remote<Desk> | null = null
  private newest: Int32Array | null = null
  private ticket = 0
  private waiting: Wanted | null = null
  private busy = false
  /** Grows with every start of a worker: answers of an ended one are nobody's. */
  private life = 0
  private dropped: (() => void) | null = null

  constructor(startWorker: () => Worker, listener: DeskListener) {
    this.startWorker = startWorker
    this.listener = listener
  }

  /** Reads a bay in the worker. `null` when it was cancelled meanwhile. */
  async open(
    text: string,
    name: string,
    token: string,
    host: Host,
    told: (p: Progress) => void,
  ): Promise<Outcome<Opened> | null> {
    const desk = this.running()
    const life = this.life
    const cancelled = new Promise<null>((done) => {
      this.dropped = () => done(null)
    })
    const opened = desk.open(
      text,
      name,
      proxy((file) => bytesBeside(host, token, file)),
      proxy(told),
    ) as Promise<Outcome<Opened>>
    const outcome = await Promise.race([opened, cancelled])
    this.dropped = null
    return life === this.life ? outcome : null
  }

  /** A copy of the meshes of the bay that is open. */
  async openMeshes(): Promise<Meshes> {
    return (await this.running().openMeshes()) as Meshes
  }

  /** The mesh files of the bay that is open, as the sheets name them. */
  async meshFiles(): Promise<ReadonlyMap<string, MeshFile>> {
    return (await this.running().meshFiles()) as ReadonlyMap<string, MeshFile>
  }

  /** What is in a mesh file that is not one of the bay's yet. */
  async inspectMesh(name: string, bytes: Uint8Array): Promise<Outcome<MeshNote>> {
    return (await this.running().inspectMesh(name, bytes)) as Outcome<MeshNote>
  }

  /** The mesh that was inspected last becomes one of the bay's. */
  async keepMesh(file: string): Promise<MeshNote | null> {
    return (await this.running().keepMesh(file)) as MeshNote | null
  }

  /** A pipe as it would be, to look at; null where it has no solid. */
  async sketch(wanted: Sketch): Promise<DrawnSolid | null> {
    return (await this.running().sketch(wanted)) as DrawnSolid | null
  }

  /** All parts of another candidate, to look at. */
  async outlines(bay: Bay, candidate: string): Promise<readonly DrawnSolid[]> {
    return (await this.running().outlines({ bay, candidate })) as readonly DrawnSolid[]
  }

  /** Lines of the bay from one side, for a drawing on paper. */
  async lines(wanted: LinesAsk): Promise<Outcome<LineDrawing>> {
    return (await this.running().lines(wanted)) as Outcome<LineDrawing>
  }

  /** Asks for drawing, ledger, bends and seat of a bay; answers come to the listener. */
  ask(wanted: Wanted): void {
    this.waiting = wanted
    this.ticket++
    if (this.newest) Atomics.store(this.newest, 0, this.ticket)
    if (!this.busy) void this.work()
  }

  /**
   * Gives up what is being computed. Without shared memory a busy worker hears nothing: it is ended, and false says that
   * the bay has to be opened again.
   */
  stop(): boolean {
    this.waiting = null
    this.ticket++
    if (this.newest && !this.dropped) {
      Atomics.store(this.newest, 0, this.ticket)
      return true
    }
    this.end()
    return false
  }

  end(): void {
    this.worker?.terminate()
    this.worker = null
    this.desk = null
    this.newest = null
    this.busy = false
    this.life++
    this.dropped?.()
  }

  private running(): Remote<Desk> {
    if (this.desk) return this.desk
    this.worker = this.startWorker()
    this.desk = wrap<Desk>(this.worker)
    const life = ++this.life
    this.worker.addEventListener('error', (event) => {
      if (life !== this.life) return
      this.end()
      this.listener.broke(event.message ?? '')
    })
    if (typeof SharedArrayBuffer !== 'undefined' && globalThis.crossOriginIsolated) {
      const shared = new SharedArrayBuffer(4)
      this.newest = new Int32Array(shared)
      void this.desk.watch(shared)
    }
    return this.desk
  }

  private async bend(desk: Remote<Desk>, { bay, candidate }: Wanted, ticket: number, life: number): Promise<void> {
    const reply = (await desk.bends({ bay, candidate: candidate ?? undefined, ticket })) as BendsReply
    if (life === this.life && ticket === this.ticket && reply.kind === 'answered')
      this.listener.bent(bay, candidate, reply)
  }

  private async seat(
    desk: Remote<Desk>,
    { bay, candidate, need }: Wanted,
    ticket: number,
    life: number,
  ): Promise<void> {
    if (need === null) return
    const reply = (await desk.offered({ bay, candidate: candidate ?? undefined, ticket, need })) as SeatReply
    if (life === this.life && ticket === this.ticket && reply.kind === 'answered')
      this.listener.seated(bay, candidate, need, reply)
  }

  private async work(): Promise<void> {
    this.busy = true
    const desk = this.running()
    const life = this.life
    try {
      while (this.waiting && life === this.life) {
        const wanted = this.waiting
        const { bay, candidate } = wanted
        const ticket = this.ticket
        this.waiting = null
        this.listener.computing(null)
        const ask = { bay, candidate: candidate ?? undefined, ticket }
        const told = proxy((progress: Progress) => {
          if (ticket === this.ticket) this.listener.computing(progress)
        })
        // Both are asked at once: a quick ledger then comes before the next frame is drawn, and with it.
        const [drawing, answer] = [
          desk.draw(ask) as Promise<Drawing>,
          candidate === null ? null : (desk.ledger(ask, told) as Promise<Answer>),
        ]
        answer?.catch(() => {})
        // A newer bay may wait, but buffers come once only: what was drawn has to be kept.
        const drawn = await drawing
        if (life !== this.life) return
        this.listener.drawn(drawn)
        const answered = await answer
        if (life !== this.life) return
        if (ticket !== this.ticket || answered?.kind !== 'answered') continue
        this.listener.answered(bay, candidate, answered)
        // After the ledger and not with it: a gap is never waited for longer because of a bend table.
        if (hasPipes(wanted)) await this.bend(desk, wanted, ticket, life)
        await this.seat(desk, wanted, ticket, life)
      }
    } catch (error) {
      if (life !== this.life) return
      this.end()
      this.listener.broke(error instanceof Error ? error.message : String(error))
    } finally {
      if (life === this.life) {
        this.busy = false
        this.listener.rested()
      }
    }
  }
}

const hasPipes = ({ bay, candidate }: Wanted): boolean =>
  bay.candidates.some(({ id, pipes }) => id === candidate && pipes !== undefined && pipes.length > 0)

/** Errors lose everything but their message on the way through a port, so faults go as values. */
async function bytesBeside(host: Host, token: string, file: string): Promise<Outcome<Uint8Array>> {
  try {
    const bytes = await host.beside(token, file)
    const own = bytes.byteLength === bytes.buffer.byteLength ? bytes : bytes.slice()
    return transfer({ ok: true, value: own } as const, [own.buffer as ArrayBuffer])
  } catch (error) {
    return bad(...faultsOf(error, { code: 'mesh-missing', file }))
  }
}

export function faultsOf(error: unknown, otherwise: Fault): readonly Fault[] {
  if (error instanceof FaultError) return error.faults
  const faults = (error as { faults?: readonly Fault[] } | null)?.faults
  if (Array.isArray(faults)) return faults
  return [{ ...otherwise, got: error instanceof Error ? error.message : String(error) }]
}
