/**
 * What the window needs from its surroundings. Two homes: Electron's preload (bridge to main) and the loopback
 * server's page (browser fallback). The window knows only this interface and never which of the two it is in.
 */
export interface OpenedBay {
  /** Handle for later calls; meaningless to the window. */
  readonly token: string
  /** File name as shown to people. */
  readonly name: string
  readonly text: string
  /** Whether `save` can write back to the same place. */
  readonly writable: boolean
}

export interface Host {
  readonly kind: 'desktop' | 'browser'
  /** The bay to show at the start, if one was asked for. */
  first(): Promise<OpenedBay | null>
  /** Asks the user for a bay; null when they cancel. */
  open(): Promise<OpenedBay | null>
  /** Writes text to the bay's own place, or asks for one (`as`, or no token); null when they cancel. */
  save(text: string, name: string, token: string | null, as: boolean): Promise<OpenedBay | null>
  /** Bytes of a file that lies in the bay's folder (a mesh); rejects with FaultError-like `{faults}`. */
  beside(token: string, file: string): Promise<Uint8Array>
  /**
   * A bay that was dropped on the window, perhaps together with its meshes; null when no bay was among the files.
   * Rejects like `beside`.
   */
  dropped?(files: readonly File[]): Promise<OpenedBay | null>
  /** Commands chosen in the shell's own menu; the answer stops listening. Absent where there is no such menu. */
  onCommand?(listener: (command: MenuCommand) => void): () => void
}

/** What the shell's menu can ask of the window; the window does the rest, so menu, key and button are one thing. */
export type MenuCommand = 'open' | 'save' | 'save-as' | 'undo' | 'redo'
