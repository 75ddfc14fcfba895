import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { sampleBay } from '../test/kit/sampleBay.ts'
import { checkBay, readBay } from '../core/bay/read.ts'
import type { KeepOut } from '../core/bay/schema.ts'
import type { Fault } from '../core/fault.ts'
import { checkMesh } from '../core/shape/meshCheck.ts'
import { readMesh } from './files/importers.ts'
import { faultText, faultTexts, hasWords } from './wording.ts'

describe('a fault as a sentence', () => {
  test('file, place with the item’s id, what was expected, what was found', () => {
    expect(
      faultText({
        code: 'too-few',
        file: 'tarnbeck.bay.json',
        item: 'lamp-left',
        field: 'keepOuts[2].shape.points',
        expected: 'at least 4 points, not in a plane',
        got: 3,
      }),
    ).toMatchInlineSnapshot(
      `"tarnbeck.bay.json: keepOuts[2] (lamp-left), shape.points: expected at least 4 points, not in a plane; found 3."`,
    )
  })

  test('a code without words of its own is told with all its fields', () => {
    expect(
      faultText({
        code: 'never-heard-of',
        file: 'a.json',
        item: 'x',
        field: 'f',
        expected: 'this',
        got: 'that',
        line: 3,
        nearest: 'y',
      }),
    ).toMatchInlineSnapshot(`"a.json, line 3: x, f: never heard of; expected this; found "that". Did you mean y?"`)
    expect(faultText({ code: 'bare' })).toBe('bare.')
  })

  test('text from a file cannot steer the terminal', () => {
    const text = faultText({
      code: 'wrong-type',
      file: 'a\u001b[2Jb',
      field: 'x\u202ey',
      expected: 'a\u0007',
      got: '\u009b31m',
    })
    // biome-ignore lint/suspicious/noControlCharactersInRegex: just these must not be there
    expect(text).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e]/)
  })

  test('faults of a bay as they come', () => {
    const bay = sampleBay() as unknown as Record<string, unknown> & ReturnType<typeof sampleBay>
    const text = JSON.stringify(
      {
        ...bay,
        keepouts: [],
        units: 'inches',
        keepOuts: [
          { ...bay.keepOuts[0], clearance: '10', shape: { ...bay.keepOuts[0].shape, size: [60, 0, 120] } },
          ...bay.keepOuts.slice(1),
          { ...bay.keepOuts[2], id: 'beam', role: undefined },
        ],
      },
      null,
      1,
    )
    const read = readBay(text, 'my.bay.json')
    expect(read.ok ? [] : faultTexts(read.faults)).toMatchInlineSnapshot(`
      [
        "my.bay.json, line 9, column 11: units: expected one of "mm", "inch"; found "inches". Did you mean inch?",
        "my.bay.json, line 15, column 17: keepOuts[0] (beam), clearance: expected a number; found "10".",
        "my.bay.json, line 26, column 6: keepOuts[0] (beam), shape.size[1]: expected more than 0; found 0.",
        "my.bay.json, line 188, column 3: keepOuts[7] (beam), role: missing; expected one of "safety", "lamp", "cooling", "moving", "hot", "body", "service".",
        "my.bay.json, line 189, column 10: keepOuts[7] (beam), id: used twice; expected an id of its own in this list; found "beam".",
        "my.bay.json, line 383, column 14: keepouts: no such field. Did you mean keepOuts?",
      ]
    `)
  })

  test('faults of texts that are no bay', () => {
    const texts = [
      '{"format": "gapwright-bay",\n "version": }',
      '{"format": "gapwright-bay", "version": 7}',
      '[]',
      '{"format": "other"}',
      '{"format": "gapwright-bay", "version": 1, "name": 1e999}',
    ]
    const said = texts.map((text) => {
      const read = readBay(text, 'my.bay.json')
      return read.ok ? '' : faultTexts(read.faults)[0]
    })
    expect(said).toMatchInlineSnapshot(`
      [
        "my.bay.json, line 2, column 13: this is not JSON; expected a value; found }.",
        "my.bay.json, line 1, column 40: version: written by a newer program (version 7); this one reads version 1 and guesses nothing.",
        "my.bay.json, line 1, column 1: this is not a bay file; expected an object with format "gapwright-bay"; found [].",
        "my.bay.json, line 1, column 12: format: this is not a bay file; expected "gapwright-bay"; found "other".",
        "my.bay.json, line 1, column 1: frame: missing; expected an object.",
      ]
    `)
  })

  test('faults of shapes, with their figures in the sentence', () => {
    const shapes = [
      {
        kind: 'hull',
        points: [
          [0, 0, 0],
          [1, 0, 0],
          [0, 1, 0],
          [1, 1, 0],
        ],
      },
      {
        kind: 'sweep',
        section: [
          [0, 0],
          [10, 10],
          [10, 0],
          [0, 10],
        ],
        path: [
          [0, 0, 0],
          [100, 0, 0],
        ],
        up: [0, 0, 1],
      },
      {
        kind: 'sweep',
        section: [
          [-5, -5],
          [5, -5],
          [0, 5],
        ],
        path: [
          [0, 0, 0],
          [100, 0, 0],
          [0, 0, 0],
        ],
        up: [0, 0, 1],
      },
      {
        kind: 'tube',
        path: [
          [0, 0, 0],
          [100, 0, 0],
          [100, 30, 0],
          [0, 30, 0],
        ],
        radius: 8,
        bendRadius: 40,
      },
      {
        kind: 'tube',
        path: [
          [0, 0, 0],
          [100, 0, 0],
          [100, 30, 0],
        ],
        radius: 8,
        bendRadius: 40,
      },
      {
        kind: 'sweep',
        section: [
          [-5, -5],
          [5, -5],
          [0, 5],
        ],
        path: [
          [0, 0, 0],
          [100, 0, 2.5],
        ],
        up: [0, 0, 1],
      },
    ] as KeepOut['shape'][]
    const said = shapes.flatMap((shape) => {
      const bay = {
        ...sampleBay(),
        keepOuts: [{ id: 'beam', name: 'Beam', role: 'safety', shape }],
        ports: [],
        candidates: [],
      }
      const read = checkBay(bay, 'my.bay.json')
      return read.ok ? ['read'] : faultTexts(read.faults)
    })
    expect(said).toMatchInlineSnapshot(`
      [
        "my.bay.json: keepOuts[0] (beam), shape.points: all 4 points lie in a plane, within 0 mm; expected at least 4 points that do not lie in a plane.",
        "my.bay.json: keepOuts[0] (beam), shape.section: the edges [0]–[1] and [2]–[3] cross or touch; expected edges that do not cross or touch.",
        "my.bay.json: keepOuts[0] (beam), shape.path[1]: the path turns back on itself; expected a turn of less than 180°; found 180.",
        "my.bay.json: keepOuts[0] (beam), shape.path[2]: the straight before this point is 30 mm, 50 mm too short for the bends at its ends.",
        "my.bay.json: keepOuts[0] (beam), shape.path[1]: the straight after this point is 30 mm, 10 mm too short for the bends at its ends.",
        "my.bay.json: keepOuts[0] (beam), shape.path[1]: the path leaves its plane by 2.5 mm; expected a path in a plane square to "up".",
      ]
    `)
  })

  test('faults of meshes', async () => {
    const utf8 = (text: string) => new TextEncoder().encode(text)
    const said = async (name: string, bytes: Uint8Array) => {
      const read = await readMesh(name, bytes)
      return read.ok ? 'read' : faultTexts(read.faults).join('\n')
    }
    expect(await said('scan.step', utf8('x'))).toMatchInlineSnapshot(
      `"scan.step: not a mesh format that is read here; expected .stl, .obj, .ply, .glb; found .step."`,
    )
    expect(await said('scan.stl', new Uint8Array(0))).toMatchInlineSnapshot(
      `"scan.stl: the file is empty; expected STL data; found 0 bytes."`,
    )
    expect(await said('scan.stl', new Uint8Array(100))).toMatchInlineSnapshot(
      `"scan.stl: header: the header disagrees with the file; expected 84 bytes for the 0 triangles that the header counts; found 100 bytes, room for 0 triangles."`,
    )
    expect(
      await said('scan.stl', utf8('solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 x 0\n')),
    ).toMatchInlineSnapshot(`"scan.stl, line 4: expected a finite number; found x."`)
    expect(faultTexts(emptyAndFar())).toMatchInlineSnapshot(`
      [
        "nothing in it that has a surface; expected a triangle with an area; found 2 of no area.",
        "nothing in it that has a surface; expected at least one triangle; found none.",
        "a coordinate far outside any car; expected coordinates within 10000000000; found 3e+30 at vertex 2.",
      ]
    `)
    expect(await said('scan.stl', utf8('solid a\nfacet normal 0 0 1\nouter'))).toMatchInlineSnapshot(
      `"scan.stl, line 3: the file is cut off; expected 'loop'; found the end of the file."`,
    )
    expect(await said('scan.obj', utf8('v 0 0 0\nv 1 0 0\nf 1 2 3\n'))).toMatchInlineSnapshot(
      `"scan.obj, line 3: face 1: no such vertex; expected a vertex index from 1 to 2 or −1 to −2; found 3."`,
    )
    expect(await said('scan.obj', utf8('v 0 nan 0\n'))).toMatchInlineSnapshot(
      `"scan.obj, line 1: vertex 1, y: expected a finite number; found nan."`,
    )
    expect(await said('scan.ply', utf8('ply\nformat ascii 1.0\nelement vertex 1\n'))).toMatchInlineSnapshot(
      `"scan.ply: the file is cut off; expected a line 'end_header'; found the end of the file."`,
    )
    expect(await said('scan.glb', utf8('glTF'))).toMatchInlineSnapshot(
      `"scan.glb: the file is cut off; expected at least 20 bytes; found 4 bytes."`,
    )
  })
})

/** A mesh of two triangles of no area, one without triangles, and one with a vertex beyond reach. */
function emptyAndFar(): Fault[] {
  const meshes = [
    checkMesh(new Float64Array(18), null),
    checkMesh(new Float64Array(0), null),
    checkMesh(Float64Array.of(0, 0, 0, 3e30, 0, 0, 0, 1, 0), null),
  ]
  return meshes.flatMap((made) => (made.ok ? [] : made.faults))
}

test('every code that the program can give has words of its own', () => {
  const root = fileURLToPath(new URL('..', import.meta.url))
  const files = ['core', 'app'].flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name) && !entry.name.includes('.test.'))
      .map((entry) => join(entry.parentPath, entry.name)),
  )
  const codes = new Set(
    files.flatMap((file) =>
      [...readFileSync(file, 'utf8').matchAll(/\bcode: '([a-z0-9-]+)'/g)].map((match) => match[1]),
    ),
  )
  expect(codes.size).toBeGreaterThan(40)
  expect([...codes].filter((code) => !hasWords(code))).toEqual([])
})
