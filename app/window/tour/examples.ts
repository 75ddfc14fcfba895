import { type Fault, FaultError } from '../../../core/fault.ts'

/** An example bay with the files that lie beside it. */
export interface Example {
  readonly name: string
  readonly text: string
  readonly beside: readonly { readonly name: string; readonly bytes: Uint8Array }[]
}

export const exampleIds = ['tarnbeck', 'corvane'] as const
export type ExampleId = (typeof exampleIds)[number]

/** Where the build puts them, below the page's own address. */
const files: Record<ExampleId, { readonly bay: URL; readonly beside: Readonly<Record<string, URL>> }> = {
  tarnbeck: {
    bay: new URL('../../../assets/tarnbeck/tarnbeck.bay.json', import.meta.url),
    beside: { 'bumper.ply.gz': new URL('../../../assets/tarnbeck/bumper.ply.gz', import.meta.url) },
  },
  corvane: { bay: new URL('../../../assets/corvane/corvane.bay.json', import.meta.url), beside: {} },
}

/** Fetches an example that came with the program. Rejects with 'file-unreadable' where it is not there. */
export async function fetchExample(id: ExampleId): Promise<Example> {
  const { bay, beside } = files[id]
  const name = `${id}.bay.json`
  const text = new TextDecoder().decode(await bytesAt(bay, name))
  const meshes = Object.entries(beside).map(async ([file, url]) => ({ name: file, bytes: await bytesAt(url, file) }))
  return { name, text, beside: await Promise.all(meshes) }
}

async function bytesAt(url: URL, file: string): Promise<Uint8Array> {
  const fault: Fault = { code: 'file-unreadable', file }
  const answer = await fetch(url).catch(() => null)
  if (!answer?.ok) throw new FaultError([fault])
  return new Uint8Array(await answer.arrayBuffer())
}
