import { type Fault, FaultError } from '../../../core/fault.ts'

type Values = Readonly<Record<string, string | null | undefined>>

/** Asks the loopback server for a value. Rejects with its faults, or with 'server-gone' where nobody answers. */
export const asked = async <T>(call: string, values: Values = {}): Promise<T> =>
  (await answered(call, values)).json() as Promise<T>

export const askedBytes = async (call: string, values: Values): Promise<Uint8Array> =>
  new Uint8Array(await (await answered(call, values)).arrayBuffer())

/** Has the server do something. */
export const told = async <T>(call: string, values: Values = {}, body: string | Uint8Array = ''): Promise<T> =>
  (await answered(call, values, body)).json() as Promise<T>

async function answered(call: string, values: Values, body?: string | Uint8Array): Promise<Response> {
  const given = Object.entries(values).flatMap(([name, value]) => (value ? [[name, value]] : []))
  const query = given.length > 0 ? `?${new URLSearchParams(given)}` : ''
  let answer: Response
  try {
    answer = await fetch(`api/${call}${query}`, body === undefined ? {} : { method: 'POST', body: body as BodyInit })
  } catch {
    throw new FaultError([{ code: 'server-gone' }])
  }
  if (answer.ok) return answer
  const faults = (await answer.json().catch(() => null)) as { faults?: Fault[] } | null
  throw new FaultError(faults?.faults ?? [{ code: 'server-refused', got: answer.status }])
}

export const isServerGone = (error: unknown): boolean =>
  error instanceof FaultError && error.faults.some(({ code }) => code === 'server-gone' || code === 'server-refused')
