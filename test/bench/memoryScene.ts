import { fileURLToPath } from 'node:url'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { DeskHere } from '../../app/worker/deskHere.ts'
import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { candidateGrips } from '../../core/bay/grips/candidateGrips.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { must } from './ledgerScenes.ts'
import type { Scene } from './scene.ts'

const edits = 1000

/** Garbage is collected before anything is counted: answers are megabytes, and lie about for as long as the engine likes. */
function collector(): () => void {
  setFlagsFromString('--expose-gc')
  return runInNewContext('gc') as () => void
}

/**
 * What a desk holds after a thousand edits, beside what it held after the first hundred: every edit a place of the whole
 * candidate that was never there before.
 */
export async function memoryScene(root: URL): Promise<Scene[]> {
  const collect = collector()
  const path = fileURLToPath(new URL('assets/tarnbeck/tarnbeck.bay.json', root))
  const desk = new DeskHere()
  const beside = async (file: string) =>
    ({ ok: true, value: new Uint8Array(readFileSync(join(dirname(path), file))) }) as const
  const { bay } = must(await desk.open(readFileSync(path, 'utf8'), 'tarnbeck.bay.json', beside, () => {}))
  let done = 0
  const edit = async () => {
    const ask = { bay: placed(bay, ++done * 0.013), candidate: undefined, ticket: done }
    await desk.draw(ask)
    await desk.ledger(ask, () => {})
    await desk.bends(ask)
  }
  const held = async (upTo: number) => {
    while (done < upTo) await edit()
    collect()
    return process.memoryUsage().heapUsed / 1e6
  }
  const [early, late] = [await held(edits / 10), await held(edits)]
  return [
    {
      name: `memory of the desk over ${edits} edits of Tarnbeck`,
      inputs: `${early.toFixed(1)} MB held after ${edits / 10} edits, ${late.toFixed(1)} MB after ${edits}`,
      count: 1,
      aims: [{ way: `held after ${edits} edits`, like: `held after ${edits / 10} edits`, above: 0.1 }],
      ways: [
        { name: `held after ${edits} edits`, once: true, run: () => late },
        { name: `held after ${edits / 10} edits`, once: true, run: () => early },
      ],
    },
  ]
}

function placed(bay: Bay, by: number): Bay {
  const [candidate, ...others] = bay.candidates
  const grip = candidateGrips(candidate).find(({ id }) => id === 'along-x')
  if (grip?.kind !== 'slide') throw new Error('a candidate can be moved')
  return { ...bay, candidates: [grip.put(grip.value - by), ...others] }
}
