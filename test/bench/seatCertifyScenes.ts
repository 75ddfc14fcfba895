import { fileURLToPath } from 'node:url'
import { openBay } from '../../app/files/bayFolder.ts'
import type { SeatPath } from '../../core/seat/answer.ts'
import { certify, decide } from '../../core/seat/certify.ts'
import { findPath } from '../../core/seat/find.ts'
import { type SeatSubject, seatSubject } from '../../core/seat/subject.ts'
import { denseMargin } from '../kit/denseMargin.ts'
import { block, keyBay, subjectOf, tiltBay } from '../kit/seatBays.ts'
import { must } from './ledgerScenes.ts'
import type { Scene } from './scene.ts'

interface Case {
  readonly name: string
  readonly subject: SeatSubject
  readonly path: SeatPath
}

/** Distance queries that finding a path to certify may take. */
const work = 400_000
/** Poses of the plain way lie so near to each other, mm. */
const apart = 0.1
const densely = `dense sampling, a pose every ${apart} mm`

/** Whole paths certified, each scene beside dense sampling of the very same path by the very same queries. */
export async function seatCertifyScenes(root: URL): Promise<Scene[]> {
  return [
    certifyScene('seat-certify, Tarnbeck with its bumper of 108,000 triangles kept on', await tarnbeckCases(root)),
    certifyScene('seat-certify, twelve keep-outs, tilts and swings', turningCases()),
  ]
}

function certifyScene(name: string, cases: readonly Case[]): Scene {
  const told = cases.map((one) => {
    const { keepOuts } = one.subject
    const { poses, margin } = denseMargin(one.subject, one.path, apart)
    const { atLeast, atMost } = certify(one.subject, one.path)
    const least = `${atLeast.toFixed(3)} … ${atMost.toFixed(3)} mm, ${margin.toFixed(3)} seen in ${poses} poses`
    return `${one.name}: ${one.path.moves.length} moves, ${keepOuts.length} keep-outs, ${least}`
  })
  const certified = 'least margin certified within 0.05 mm'
  return {
    name,
    inputs: told.join('; '),
    count: cases.length,
    aims: [
      { way: certified, ms: 5 },
      { way: certified, than: 'dense', times: 100 },
    ],
    ways: [
      { name: certified, run: (i) => certify(cases[i].subject, cases[i].path).atMost },
      {
        name: 'decided whether the margin holds',
        run: (i) => (decide(cases[i].subject, cases[i].path) === 'proved' ? 1 : 0),
      },
      {
        name: densely,
        baseline: true,
        most: cases.length,
        // The certified interval's width, and half a step that lies between two poses.
        within: 0.05 + apart / 2,
        run: (i) => denseMargin(cases[i].subject, cases[i].path, apart).margin,
      },
    ],
  }
}

function caseOf(name: string, subject: SeatSubject, seed = 1): Case[] {
  const { path, fewest } = findPath(subject, { work, seed })
  if (!path) throw new Error(`${name}: no path to certify`)
  return [{ name, subject, path }, ...(fewest ? [{ name: `${name}, fewest moves`, subject, path: fewest }] : [])]
}

async function tarnbeckCases(root: URL): Promise<Case[]> {
  const { bay, meshes } = must(await openBay(fileURLToPath(new URL('assets/tarnbeck/tarnbeck.bay.json', root))))
  const keepOuts = bay.keepOuts.map((each) => (each.id === 'bumper' ? { ...each, fitting: undefined } : each))
  return ['wide', 'standard'].flatMap((id) => caseOf(id, must(seatSubject({ ...bay, keepOuts }, id, meshes))))
}

/** Both bays filled up to twelve keep-outs by boxes that stand beside the way. */
function turningCases(): Case[] {
  const beside = (count: number) =>
    Array.from({ length: count }, (_, i) =>
      block(`stay-${i}`, [-40 + 12 * i, -20 + 12 * i], [340 + 20 * i, 350 + 20 * i], [-220, 120], 2),
    )
  const far = (count: number) =>
    Array.from({ length: count }, (_, i) =>
      block(`stay-${i}`, [112, 140], [-300 + 90 * i, -250 + 90 * i], [-90, 90], 2),
    )
  const tilts = ([0, -30] as const).flatMap((back) => {
    const { bay, meshes } = tiltBay(back)
    const full = { ...bay, keepOuts: [...bay.keepOuts, ...beside(5)] }
    return caseOf(`tilt, crossmember ${-back} mm forward`, subjectOf(full, meshes))
  })
  const key = keyBay(100)
  return [...tilts, ...caseOf('key-hole', subjectOf({ ...key, keepOuts: [...key.keepOuts, ...far(5)] }))]
}
