import { createStore, type StoreApi } from 'zustand/vanilla'
import { freshKeepOut } from '../../../core/bay/freshKeepOut.ts'
import type { Bay, KeepOut } from '../../../core/bay/schema.ts'
import { bad, type Fault, good, type Outcome } from '../../../core/fault.ts'
import type { MeshUnit } from '../../../core/shape/meshShape.ts'
import { defaultLimits } from '../../files/rawMesh.ts'
import type { AddedFile, Host } from '../../host.ts'
import type { MeshNote } from '../../worker/protocol.ts'
import { download } from '../host/pickers.ts'
import { words } from '../words.ts'
import { faultsOf } from './deskLink.ts'
import { withEntry } from './edit.ts'
import { bayOf, doEdit, type WindowStore } from './windowState.ts'

/** A mesh file that was dropped or chosen, on its way into the bay. */
export interface MeshInHand {
  readonly name: string
  readonly bytes: Uint8Array
  readonly found: MeshNote
}

/** What the Measure stage asks and has in hand; nothing of it is in the bay. */
export interface MeasureState {
  /** The questions of a new bay are open. */
  readonly beginning: boolean
  /** A mesh file is asked for or looked at. */
  readonly mesh: MeshInHand | 'asking' | 'reading' | null
  readonly meshFaults: readonly Fault[]
  /** Counts up with every wish for the list of kinds, so that it opens again. */
  readonly kinds: number
  /** What was opened last for editing beside keep-outs: `port turbo`, `opening grille`, `mount left`, `fixing lug`, `bay`. */
  readonly open: string | null
  /** What is pointed at, its row or its mark in the drawing; named as `open` names it. */
  readonly pointed: string | null
  /** What was added just now, a keep-out's id or as `open` names it: its name is typed next. */
  readonly fresh: string | null
  /** Readings of the pairs of points that meshes are placed by, as typed, by keep-out. */
  readonly pairs: ReadonlyMap<string, readonly (readonly string[])[]>
  /** Meshes that lie in no folder: a browser writes one file at a time. By the name that the bay has for them. */
  readonly loose: ReadonlyMap<string, Uint8Array>
}

export type MeasureStore = StoreApi<MeasureState>

/** What the room needs of the window: its worker, its host. */
export interface MeasureNeeds {
  readonly store: WindowStore
  readonly host: Host
  readonly inspect: (name: string, bytes: Uint8Array) => Promise<Outcome<MeshNote>>
  readonly keep: (file: string) => Promise<MeshNote | null>
  /** The bay's meshes are others now. */
  readonly renewed: () => void
}

/** Mesh files on their way into the bay. */
export class MeasureRoom {
  readonly store: MeasureStore = createStore<MeasureState>(() => ({
    beginning: false,
    mesh: null,
    meshFaults: [],
    kinds: 0,
    open: null,
    pointed: null,
    fresh: null,
    pairs: new Map(),
    loose: new Map(),
  }))
  private readonly needs: MeasureNeeds
  private newest = 0

  constructor(needs: MeasureNeeds) {
    this.needs = needs
  }

  askForMesh(): void {
    this.store.setState({ mesh: 'asking', meshFaults: [] })
  }

  leaveMesh(): void {
    this.newest++
    this.store.setState({ mesh: null, meshFaults: [] })
  }

  /** Looks into a file; what is wrong with it is said where it was asked for. The newest file counts. */
  async lookInto(file: Pick<File, 'name' | 'size' | 'arrayBuffer'>): Promise<void> {
    const own = ++this.newest
    this.store.setState({ mesh: 'reading', meshFaults: [] })
    const looked = await this.inspected(file)
    if (own !== this.newest) return
    this.store.setState(
      looked.ok ? { mesh: looked.value, meshFaults: [] } : { mesh: 'asking', meshFaults: looked.faults },
    )
  }

  private async inspected(file: Pick<File, 'name' | 'size' | 'arrayBuffer'>): Promise<Outcome<MeshInHand>> {
    const { name, size } = file
    // Before it is taken into memory: the reader's own limit comes too late for that.
    if (size > defaultLimits.bytes) {
      const expected = `at most ${defaultLimits.bytes} bytes`
      return bad({ code: 'mesh-too-big', file: name, expected, got: `${size} bytes` })
    }
    try {
      const bytes = new Uint8Array(await file.arrayBuffer())
      const found = await this.needs.inspect(name, bytes)
      return found.ok ? { ok: true, value: { name, bytes, found: found.value } } : found
    } catch (error) {
      return { ok: false, faults: faultsOf(error, { code: 'file-unreadable', file: name }) }
    }
  }

  /** Adds a keep-out as one step, and opens it. */
  add(make: (bay: Bay) => KeepOut): Outcome<null> {
    const { store } = this.needs
    const bay = bayOf(store.getState())
    if (!bay) return good(null)
    const keepOut = make(bay)
    const done = doEdit(store, {
      name: 'add-keep-out',
      label: words.measure.added(keepOut.name),
      undo: 'step',
      apply: (whole) => withEntry(whole, ['keepOuts'], whole.keepOuts.length, keepOut),
    })
    if (!done.ok) return done
    this.store.setState({ fresh: keepOut.id })
    store.setState({ stage: 'measure', openItem: { side: 'keepOut', key: keepOut.id } })
    return done
  }

  /**
   * Gives out the meshes of a bay that lie in no folder yet, as downloads: the bay was saved just now.
   * @returns their names
   */
  handOver(bay: Bay): readonly string[] {
    const named = new Set(bay.keepOuts.flatMap(({ shape }) => (shape.kind === 'mesh' ? [shape.file] : [])))
    const { loose } = this.store.getState()
    const given = [...loose].filter(([file]) => named.has(file))
    for (const [file, bytes] of given) download(bytes, file)
    if (given.length > 0) this.store.setState({ loose: new Map([...loose].filter(([file]) => !named.has(file))) })
    return given.map(([file]) => file)
  }

  /**
   * Puts the mesh in hand beside the bay and makes a keep-out of it.
   * @returns its file; `onDisk` false where it lies in no folder until the bay is saved, which has to be told
   */
  async takeMesh(unit: MeshUnit): Promise<AddedFile | null> {
    const { mesh } = this.store.getState()
    const { store, host, keep, renewed } = this.needs
    const { file } = store.getState()
    if (mesh === null || typeof mesh === 'string' || !file) return null
    try {
      const added = await host.addBeside(file.token, mesh.name, mesh.bytes)
      const note = await keep(added.file)
      if (!note) return null
      const isLoose = host.kind === 'browser' && !(added.onDisk && file.writable)
      if (isLoose) this.store.setState(({ loose }) => ({ loose: new Map([...loose, [added.file, mesh.bytes]]) }))
      store.setState(({ meshes }) => ({ meshes: new Map([...meshes, [added.file, note]]) }))
      renewed()
      const shape = { kind: 'mesh', file: added.file, unit } as const
      const done = this.add((bay) => freshKeepOut(bay, shape, words.measure.mesh.called(mesh.name)))
      if (!done.ok) {
        this.store.setState({ meshFaults: done.faults })
        return null
      }
      this.leaveMesh()
      return { file: added.file, onDisk: added.onDisk && !isLoose }
    } catch (error) {
      this.store.setState({ meshFaults: faultsOf(error, { code: 'file-unwritable', file: mesh.name }) })
      return null
    }
  }
}

/** Whether a file's name ends as that of a mesh does. The list of readers itself would bring them all into the page. */
export const isMeshName = (name: string): boolean => /\.(stl|obj|ply|glb)(\.gz)?$/i.test(name)
