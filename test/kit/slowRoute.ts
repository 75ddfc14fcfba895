import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { freeRun } from './corridors.ts'
import { seeded } from './random.ts'
import { keepOut } from './tinyBay.ts'

type Triple = [number, number, number]

/**
 * A bay whose pipe has a way almost at once, and hundreds of crumbs on all sides that make every other way slow to find.
 * For tests of what happens when somebody does not want to wait.
 * @returns path of the bay
 */
export async function writeSlowRoute(folder: string): Promise<string> {
  const random = seeded(3)
  const { bay } = freeRun(2000, 200)
  const crumb = (id: string) => {
    const at: Triple = [random.real(150, 1850), random.real(-900, 1100), random.real(-900, 900)]
    const size: Triple = [random.real(10, 60), random.real(10, 60), random.real(10, 60)]
    const turn: Triple = [random.real(0, 90), random.real(0, 90), 0]
    return keepOut(id, { kind: 'box', at, size, turn })
  }
  const keepOuts = Array.from({ length: 1000 }, (_, n) => crumb(`crumb-${n}`))
  const path = join(folder, 'crumbs.bay.json')
  await writeFile(path, JSON.stringify({ ...bay, keepOuts }))
  return path
}
