import { proxy, type Remote, transfer, wrap } from 'comlink'
import type { Meshes } from '../../../core/bay/part.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import {
  type SearchAnswer,
  type SearchAsk,
  type SearchDesk,
  type SearchKind,
  type SearchPoint,
  type SearchRequests,
  searchKinds,
} from '../../worker/searchProtocol.ts'

/** A question, without the ticket that the link gives it. */
export interface Sought<K extends SearchKind = SearchKind> {
  readonly kind: K
  readonly bay: Bay
  readonly candidate: string
  readonly request: SearchRequests[K]
}

/** Never called for a question that a newer one of its kind has replaced. */
export interface SearchListener {
  began(sought: Sought): void
  told(sought: Sought, point: SearchPoint): void
  answered(sought: Sought, answer: SearchAnswer): void
  /** Given up: nobody wants the answer any more. */
  dropped(kind: SearchKind): void
  /** No answer will come: the worker broke, or was ended by `cancel`. */
  lost(sought: Sought, fault: Fault): void
}

interface Lane {
  ticket: number
  waiting: Sought | null
  /** What the worker is busy with. */
  under: Sought | null
}

/** Written in place of a ticket: the search ends with the best it has. */
const cancelled = -1

/**
 * The window's end of the second worker. It is started with the first question, so that a bay is shown before its meshes
 * are copied. Of each kind the newest question wins and ends the one under way.
 */
export class SearchLink {
  private readonly startSearcher: () => Worker
  private readonly meshes: () => Promise<Meshes>
  private readonly listener: SearchListener
  private worker: Worker | null = null
  private desk: Promise<Remote<SearchDesk>> | null = null
  private tickets: Int32Array | null = null
  /** Grows with every end of a worker: answers of an ended one are nobody's. */
  private life = 0
  private readonly lanes = new Map<SearchKind, Lane>(
    searchKinds.map((kind) => [kind, { ticket: 0, waiting: null, under: null }]),
  )

  /** @param meshes those of the bay that is open, as values to give away */
  constructor(startSearcher: () => Worker, meshes: () => Promise<Meshes>, listener: SearchListener) {
    this.startSearcher = startSearcher
    this.meshes = meshes
    this.listener = listener
  }

  ask(sought: Sought): void {
    const lane = this.lane(sought.kind)
    lane.waiting = sought
    this.advance(sought.kind)
    if (!lane.under) void this.work(sought.kind)
  }

  /** Nobody wants the answer any more. */
  drop(kind: SearchKind): void {
    const lane = this.lane(kind)
    lane.waiting = null
    if (!lane.under) return
    this.advance(kind)
    this.listener.dropped(kind)
  }

  /** Ends a search with what it has. Without shared memory the worker hears nothing and is ended, with no answer. */
  cancel(kind: SearchKind): void {
    this.lane(kind).waiting = null
    if (this.tickets) Atomics.store(this.tickets, searchKinds.indexOf(kind), cancelled)
    else this.end({ code: 'search-stopped' })
  }

  /**
   * Another bay was opened, or the window goes: the meshes that the worker has are of no more use.
   * @param fault where somebody waits for the answers that are lost
   */
  end(fault: Fault | null = null): void {
    this.worker?.terminate()
    this.worker = null
    this.desk = null
    this.tickets = null
    this.life++
    for (const [kind, lane] of this.lanes) {
      const lost = lane.waiting ?? lane.under
      Object.assign(lane, { ticket: lane.ticket + 1, waiting: null, under: null })
      if (lost && fault) this.listener.lost(lost, fault)
      else if (lost) this.listener.dropped(kind)
    }
  }

  private lane(kind: SearchKind): Lane {
    return this.lanes.get(kind) as Lane
  }

  private advance(kind: SearchKind): void {
    const lane = this.lane(kind)
    lane.ticket++
    if (this.tickets) Atomics.store(this.tickets, searchKinds.indexOf(kind), lane.ticket)
  }

  private async work(kind: SearchKind): Promise<void> {
    const lane = this.lane(kind)
    const life = this.life
    try {
      while (lane.waiting && life === this.life) {
        const sought = lane.waiting
        const { ticket } = lane
        Object.assign(lane, { waiting: null, under: sought })
        const isWanted = () => life === this.life && ticket === lane.ticket
        this.listener.began(sought)
        const desk = await this.running()
        if (!isWanted()) continue
        const told = proxy((point: SearchPoint) => isWanted() && this.listener.told(sought, point))
        const answer = (await desk.search({ ...sought, ticket } as SearchAsk, told)) as SearchAnswer
        if (isWanted()) this.listener.answered(sought, answer)
      }
    } catch (error) {
      // What broke in a search breaks nothing else; the next question starts anew.
      if (life === this.life) this.end(brokenBy(error as Error))
    } finally {
      if (life === this.life) lane.under = null
    }
  }

  private running(): Promise<Remote<SearchDesk>> {
    this.desk ??= this.started()
    return this.desk
  }

  private async started(): Promise<Remote<SearchDesk>> {
    const worker = this.startSearcher()
    this.worker = worker
    const desk = wrap<SearchDesk>(worker)
    const life = this.life
    worker.addEventListener('error', (event) => {
      if (life === this.life) this.end(brokenBy(event))
    })
    if (typeof SharedArrayBuffer !== 'undefined' && globalThis.crossOriginIsolated) {
      const shared = new SharedArrayBuffer(4 * searchKinds.length)
      this.tickets = new Int32Array(shared)
      for (const [slot, kind] of searchKinds.entries()) Atomics.store(this.tickets, slot, this.lane(kind).ticket)
      void desk.watch(shared)
    }
    const meshes = await this.meshes()
    const buffers = [...meshes.values()].flatMap(({ positions, triangles }) => [positions.buffer, triangles.buffer])
    await desk.borrow(transfer(meshes, buffers as ArrayBuffer[]))
    return desk
  }
}

const brokenBy = ({ message }: { message?: string }): Fault => ({ code: 'search-broke', got: message ?? '' })
