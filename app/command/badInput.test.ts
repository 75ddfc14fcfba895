import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { cli } from '../../test/kit/cli.ts'
import { boxMesh, stlBinary, stlText } from '../../test/kit/meshWriters.ts'
import { sampleBay } from '../../test/kit/sampleBay.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bad-'))
})
afterAll(() => rm(folder, { recursive: true }))

// biome-ignore lint/suspicious/noExplicitAny: tests put anything anywhere
type Anything = any
const changed = (change: (bay: Anything) => void): string => {
  const bay: Anything = sampleBay()
  change(bay)
  return JSON.stringify(bay, null, 2)
}
const withText = (find: string, replace: string) => {
  const text = JSON.stringify(sampleBay(), null, 2)
  expect(text).toContain(find)
  return text.replace(find, replace)
}
const shaped = (shape: object) => changed((b) => Object.assign(b.keepOuts[0], { shape }))
const box = boxMesh([40, 30, 20])
const nanBox = { ...box, positions: Array.from(box.positions, (x, i) => (i === 4 ? Number.NaN : x)) }
const meshed = (file: string) => shaped({ kind: 'mesh', file, unit: 'mm' })

/** What is wrong, the bay's text, mesh files beside it, and what stderr must say. */
type Row = [what: string, text: () => string, files: Record<string, Uint8Array>, said: RegExp[]]

const rows: Row[] = [
  ['broken JSON', () => withText('"units": "mm",', '"units": "mm"'), {}, [/line \d+, column \d+/, /not JSON/]],
  [
    'an unknown field',
    () => changed((b) => (b.keepOuts[1].clearence = 3)),
    {},
    [/keepOuts\[1\] \(lamp\), clearence: no such field/, /Did you mean clearance\?/],
  ],
  [
    'a missing field',
    () => changed((b) => delete b.keepOuts[1].role),
    {},
    [/keepOuts\[1\] \(lamp\), role: missing; expected one of "safety"/],
  ],
  ['a duplicate id', () => changed((b) => (b.keepOuts[3].id = 'beam')), {}, [/keepOuts\[3\] \(beam\), id: used twice/]],
  [
    'text for a number',
    () => changed((b) => (b.candidates[0].core.depth = '90')),
    {},
    [/candidates\[0\] \(wide\), core\.depth: expected a number; found "90"/],
  ],
  ['1e999', () => withText('"depth": 90', '"depth": 1e999'), {}, [/candidates\[0\] \(wide\), core\.depth/]],
  [
    'a size of zero',
    () => changed((b) => (b.keepOuts[0].shape.size[1] = 0)),
    {},
    [/keepOuts\[0\] \(beam\), shape\.size\[1\]: expected more than 0; found 0/],
  ],
  [
    'a negative size',
    () => changed((b) => (b.candidates[0].core.width = -5)),
    {},
    [/candidates\[0\] \(wide\), core\.width: expected more than 0; found -5/],
  ],
  [
    'a planar hull',
    () => changed((b) => (b.keepOuts[1].shape.points[3][2] = 300)),
    {},
    [/keepOuts\[1\] \(lamp\), shape\.points: all 4 points lie in a plane/],
  ],
  [
    'a self-crossing section',
    () =>
      changed(
        (b) =>
          (b.keepOuts[5].shape.section = [
            [-20, -20],
            [20, 20],
            [20, -20],
            [-20, 20],
          ]),
      ),
    {},
    [/keepOuts\[5\] \(rail\), shape\.section: the edges \[\d\]–\[\d\] and \[\d\]–\[\d\] cross or touch/],
  ],
  [
    'a sweep that turns back on itself',
    () =>
      changed(
        (b) =>
          (b.keepOuts[5].shape.path = [
            [-200, 700, 0],
            [200, 700, 0],
            [-200, 700, 0],
          ]),
      ),
    {},
    [/keepOuts\[5\] \(rail\), shape\.path\[1\]: the path turns back on itself/],
  ],
  [
    'a bend radius that the straights cannot hold',
    () => changed((b) => (b.keepOuts[6].shape.bendRadius = 450)),
    {},
    [/keepOuts\[6\] \(hose\), shape\.path.*too short for the bends at its ends/],
  ],
  [
    'an unknown port',
    () => changed((b) => (b.candidates[0].pipes[0].to = 'throtle')),
    {},
    [/candidates\[0\]\.pipes\[0\] \(cold\), to: no such port/, /Did you mean throttle\?/],
  ],
  [
    'a coupler that is not in stock',
    () => changed((b) => (b.candidates[0].pipes[0].joints = { to: { kind: 'coupler', coupler: 'elbow-45' } })),
    {},
    [
      /candidates\[0\]\.pipes\[0\] \(cold\), joints\.to\.coupler: not in stock/,
      /of which there is none; found "elbow-45"/,
    ],
  ],
  [
    'an elbow in a corner that is not there',
    () =>
      changed((b) => {
        b.stock = {
          elbows: [
            {
              id: 'cast',
              name: 'Cast',
              outsideDiameter: 57,
              wall: 3,
              material: 'cast',
              angle: 90,
              radius: 60,
              legs: [0, 0],
            },
          ],
        }
        b.candidates[0].pipes[0].elbows = [{ corner: 0, elbow: 'cast' }]
      }),
    {},
    [/candidates\[0\]\.pipes\[0\] \(cold\), elbows\[0\]\.corner: no such corner in the path/],
  ],
  [
    'a clamp whose least is above its most',
    () =>
      changed((b) => (b.stock = { clamps: [{ id: 'band', name: 'Band', least: 80, most: 60, band: 12, height: 9 }] })),
    {},
    [/stock\.clamps\[0\] \(band\), least: the least is above the most; expected at most `most`, 60; found 80/],
  ],
  [
    'a missing mesh',
    () => meshed('none.stl'),
    {},
    [/^none\.stl: keepOuts\[0\] \(beam\), shape\.file: the mesh is not there/],
  ],
  [
    'a mesh outside the folder',
    () => meshed('../outside.stl'),
    {},
    [/keepOuts\[0\] \(beam\), shape\.file: a mesh must lie in the bay’s folder.*"\.\.\/outside\.stl"/],
  ],
  [
    'a cut mesh',
    () => meshed('cut.stl'),
    { 'cut.stl': stlBinary(box).slice(0, 500) },
    [/^cut\.stl: beam, header: the file is cut off; expected 684 bytes/],
  ],
  [
    'a lying mesh header',
    () => meshed('lie.stl'),
    { 'lie.stl': stlBinary(box, { count: 3 }) },
    [/^lie\.stl: beam, header: the header disagrees with the file/],
  ],
  [
    'a vertex that is not a number',
    () => meshed('nan.stl'),
    { 'nan.stl': stlBinary(nanBox) },
    [/^nan\.stl: beam, triangle \d+, corner \d, y: expected a finite number; found NaN/],
  ],
  [
    'an empty mesh',
    () => meshed('empty.stl'),
    { 'empty.stl': stlText({ positions: [], triangles: [] }) },
    [/^empty\.stl: keepOuts\[0\] \(beam\), shape\.file: nothing in it that has a surface/],
  ],
  [
    'a file without a byte',
    () => meshed('nothing.stl'),
    { 'nothing.stl': new Uint8Array(0) },
    [/^nothing\.stl: .*\(beam\).*the file is empty/],
  ],
  [
    'a future version',
    () => changed((b) => (b.version = 2)),
    {},
    [/version: written by a newer program \(version 2\)/],
  ],
]

describe('bad input: exit status 2, one clear sentence on stderr, nothing on stdout, no trace', () => {
  test.each(rows)('%s', async (_, text, files, said) => {
    const path = join(folder, 'my.bay.json')
    await writeFile(path, text())
    for (const [name, bytes] of Object.entries(files)) await writeFile(join(folder, name), bytes)
    const { status, out, err } = await cli(['check', path])
    expect({ status, out }).toEqual({ status: 2, out: '' })
    for (const pattern of said) expect(err).toMatch(pattern)
    if (!/^[a-z]+\.stl/.test(err)) expect(err).toMatch(/^\S+my\.bay\.json, line \d+, column \d+: /)
    expect(err).not.toMatch(/\n {4}at |Error:|undefined|\[object/)
    expect(await cli(['check', path, '--json'])).toEqual({ status, out, err })
  })

  test('a pipe whose corners cannot be rounded', async () => {
    const path = join(folder, 'pipe.bay.json')
    await writeFile(
      path,
      changed(
        (b) =>
          (b.candidates[0].pipes[0].path = [
            [90, -450, 40],
            [120, -450, 40],
          ]),
      ),
    )
    const { status, err } = await cli(['check', path])
    expect(status).toBe(2)
    expect(err).toMatch(/pipe\.bay\.json: .*cold/)
    expect(err).toMatch(/too short for the bends at its ends/)
  })
})
