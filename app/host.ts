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

/**
 * How a bay is written: to its own place if nobody else changed it since it was read, over whatever lies there now, or
 * to a place that the user is asked for.
 */
export type SaveHow = 'in-place' | 'over' | 'elsewhere'

/** How a bay's file stands to what was last read from it or written to it. */
export type Standing = 'same' | 'changed' | 'gone'

/** A file that was put beside a bay. */
export interface AddedFile {
  /** As a mesh's `file` names it: what was asked for, or a numbered name where another file has that one. */
  readonly file: string
  /** False where it could only be kept in the window: it then has to be put into the bay's folder by hand. */
  readonly onDisk: boolean
}

/** A file that is written for others. */
export interface FileOut {
  /** Path inside the folder that it goes to, with slashes. */
  readonly name: string
  readonly bytes: Uint8Array
}

/** A place that the user chose for a folder of files. */
export interface ChosenFolder {
  readonly token: string
  /** Of the folder, as shown to people. */
  readonly name: string
  /** A folder of that name is there already: files of the same names in it would be replaced. */
  readonly taken: boolean
}

/** A bay that was open before. */
export interface RecentBay {
  readonly id: string
  readonly name: string
  /** Its folder, shortened for people; empty where the home does not know it. */
  readonly where: string
}

/** Work that was not saved when its window went. */
export interface LostWork {
  readonly id: string
  readonly name: string
  /** The folder of its bay, shortened for people; empty where it has none. */
  readonly where: string
  /** When it was kept, ms since 1970. */
  readonly keptAt: number
}

/** Lost work with all that is needed to go on with it. */
export interface FoundWork {
  /** The bay with the text as it was kept. */
  readonly bay: OpenedBay
  /** What its file holds now; null where it cannot be read or there is none. */
  readonly onDisk: string | null
}

/** Keeps unsaved work aside, a moment after each edit, until it is saved or given up. */
export interface Journal {
  /** @param id of this bay in this window, chosen by the window: letters, digits and dashes */
  keep(id: string, token: string | null, name: string, text: string): Promise<void>
  drop(id: string): Promise<void>
  /**
   * Work whose window has gone.
   * @param token only that of this bay; null: all there is
   */
  found(token: string | null): Promise<readonly LostWork[]>
  take(id: string): Promise<FoundWork>
}

export interface Host {
  readonly kind: 'desktop' | 'browser'
  /** The bay to show at the start, if one was asked for. */
  first(): Promise<OpenedBay | null>
  /** Asks the user for a bay; null when they cancel. */
  open(): Promise<OpenedBay | null>
  /**
   * Writes text to the bay's own place, or asks for one (`elsewhere`, or no token); null when they cancel. Says that it is
   * done when it lies on the disk. Rejects with 'changed-outside' where `in-place` would overwrite what another program
   * wrote, and with 'file-gone' where the file has vanished.
   */
  save(text: string, name: string, token: string | null, how: SaveHow): Promise<OpenedBay | null>
  /** Bytes of a file that lies in the bay's folder (a mesh); rejects with FaultError-like `{faults}`. */
  beside(token: string, file: string): Promise<Uint8Array>
  /**
   * Puts a file into the bay's folder, for `beside` to find. Never overwrites: equal bytes under that name are taken as
   * they are, others get a numbered name. Rejects like `beside`.
   */
  addBeside(token: string, name: string, bytes: Uint8Array): Promise<AddedFile>
  /**
   * Writes bytes to a place that the user chooses, or downloads them.
   * @param name suggested, with its extension
   * @returns the name it got; null when they cancel
   */
  saveFile(bytes: Uint8Array, name: string): Promise<string | null>
  /** Asks where a folder of that name is to lie; null when they cancel. Absent where the home cannot write folders. */
  chooseFolder?(name: string): Promise<ChosenFolder | null>
  /**
   * Writes files into a folder that was chosen: files of other names in it stay, and where one cannot be written none is.
   * @returns its name as shown to people
   */
  saveFolder?(token: string, files: readonly FileOut[]): Promise<string>
  /** Shows a PDF where it can be printed. Rejects like `beside`. */
  print(pdf: Uint8Array, name: string): Promise<void>
  /** A handle for a bay that is in no file yet, so that meshes can be put beside it; the first save writes them too. */
  blank(name: string, text: string): Promise<OpenedBay>
  standing(token: string): Promise<Standing>
  /** Reads the bay's own file again, and takes what is there as what it is written over. */
  again(token: string): Promise<OpenedBay>
  /** Tells of bays that another program may have changed: time to ask for their standing. The answer stops listening. */
  onTouched?(listener: (token: string) => void): () => void
  recent(): Promise<readonly RecentBay[]>
  openRecent(id: string): Promise<OpenedBay | null>
  forgetRecent(): Promise<void>
  readonly journal: Journal
  /**
   * A bay that was dropped on the window, perhaps together with its meshes; null when no bay was among the files.
   * Rejects like `beside`.
   */
  dropped?(files: readonly File[]): Promise<OpenedBay | null>
  /** Begins to drag a file out of the window, into a folder or a mail. Absent where the home cannot. */
  dragOut?(bytes: Uint8Array, name: string): void
  /** Commands chosen in the shell's own menu; the answer stops listening. Absent where there is no such menu. */
  onCommand?(listener: (command: MenuCommand) => void): () => void
}

/** What the shell's menu can ask of the window; the window does the rest, so menu, key and button are one thing. */
export type MenuCommand = 'new' | 'open' | 'save' | 'save-as' | 'undo' | 'redo' | 'history' | 'help'
