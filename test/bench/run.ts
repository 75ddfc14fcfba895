import { mkdirSync, writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { dragScenes } from './dragScenes.ts'
import { draggedPipeScene } from './draggedPipeScene.ts'
import { ledgerScene } from './ledgerScenes.ts'
import { largestRoomScenes } from './largestRoomScenes.ts'
import { largestScenes } from './largestScenes.ts'
import { manifoldLibrary } from './libraries.ts'
import { atShare, measured, type Reached, reached, type Row } from './measure.ts'
import { memoryScene } from './memoryScene.ts'
import { meshPairScenes } from './meshPairScenes.ts'
import { meshScene } from './meshScenes.ts'
import { pipeScenes } from './pipeScenes.ts'
import { readScene } from './readScenes.ts'
import { longRouteScenes, routeScenes } from './routeScenes.ts'
import type { Scene } from './scene.ts'
import { seatCertifyScenes } from './seatCertifyScenes.ts'
import { seatFindScenes } from './seatFindScenes.ts'
import { sheetScenes } from './sheetScenes.ts'
import { smallScene } from './smallScenes.ts'
import { windowScenes } from './windowScenes.ts'

const wanted = process.argv.slice(2)
const root = new URL('../../', import.meta.url)
const kernel = await manifoldLibrary()
/** Made one after the other: a scene of two large meshes need not stay while the next one is measured. */
const scenes: Record<string, () => Iterable<Scene> | Promise<Iterable<Scene>>> = {
  small: () => [smallScene()],
  mesh: () => [226, 388].map((cells) => meshScene(cells, kernel)),
  meshes: () => meshPairScenes(kernel),
  pipe: async () => [...pipeScenes(), await draggedPipeScene(root)],
  ledger: async () => [await ledgerScene(root)],
  drag: () => dragScenes(root),
  memory: () => memoryScene(root),
  largest: () => largestScenes(root),
  rooms: () => largestRoomScenes(),
  read: () => [readScene()],
  route: () => routeScenes(root),
  'seat-certify': () => seatCertifyScenes(root),
  'seat-find': () => seatFindScenes(),
  sheets: () => sheetScenes(root),
  window: () => windowScenes(root),
  long: () => longRouteScenes(root),
}

/** Minutes long: run where they are named. */
const whenNamed = ['long']

const asLine = (row: Row) => {
  const spread = `(${row.leastMs.toPrecision(2)} … ${row.mostMs.toPrecision(2)}, 95 % ${atShare(row.times, 0.95).toPrecision(3)}, first ${row.firstMs.toPrecision(2)})`
  // Successes count with the time that most of the runs took.
  const most = row.found
    ? `  found ${row.found.count} of ${row.found.of}, 90 % within ${atShare(row.times, 0.9).toPrecision(3)} ms`
    : ''
  const ratio = row.baseline ? 'baseline' : `× ${row.ratio.toPrecision(3)}`
  return `  ${row.hash}  ${row.way.padEnd(62)} ${row.medianMs.toPrecision(3).padStart(9)} ms  ${spread}  ${ratio}${most}`
}

for (const name of wanted)
  if (!(name in scenes)) throw new Error(`no scenes "${name}"; there are ${Object.keys(scenes).join(', ')}`)
const machine = `${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}`
console.log(`${machine}; ratios count, milliseconds depend on the machine`)
const rows: Row[] = []
const aims: Reached[] = []
for (const [name, make] of Object.entries(scenes)) {
  if (wanted.length > 0 ? !wanted.includes(name) : whenNamed.includes(name)) continue
  for (const scene of await make()) {
    console.log(`\n${scene.name}\n  inputs: ${scene.inputs}`)
    const here = await measured(scene)
    for (const row of here) console.log(asLine(row))
    rows.push(...here)
    for (const one of reached(scene, here)) {
      console.log(`  ${one.reached ? 'reached' : 'MISSED '}  ${one.aim}`)
      aims.push(one)
    }
  }
}
mkdirSync(new URL('dist/', root), { recursive: true })
writeFileSync(new URL('dist/bench.json', root), `${JSON.stringify({ machine, rows, aims }, null, 2)}\n`)
console.log('\nwritten to dist/bench.json')
