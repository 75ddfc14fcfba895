export interface ImportFault {
  file: string
  line: number
  what: string
}
export function importFaults(files: ReadonlyMap<string, string>, dependencies: readonly string[]): ImportFault[]
