import { readFileSync } from 'node:fs'
import { drawing, drawnThings } from '../../core/sheet/drawing/drawing.ts'
import { views } from '../../core/sheet/drawing/view.ts'
import { describe, expect, test, vi } from 'vitest'
import type { Bay } from '../../core/bay/schema.ts'
import { good } from '../../core/fault.ts'
import { bends } from '../../core/pipe/bends.ts'
import { withRoute } from '../../core/pipe/route/withRoute.ts'
import { seat } from '../../core/seat/seat.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import { bumpyMesh } from '../../test/kit/meshes.ts'
import { boxMesh, stlBinary } from '../../test/kit/meshWriters.ts'
import { pipedBay } from '../../test/kit/pipedBay.ts'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { DeskHere } from './deskHere.ts'
import type { BytesOf } from './protocol.ts'

const noFiles: BytesOf = async (file) => ({ ok: false, faults: [{ code: 'mesh-missing', file }] })
const nothing = () => {}
const text = JSON.stringify(sampleBay())

async function opened(source = text, bytesOf = noFiles) {
  const desk = new DeskHere()
  const outcome = await desk.open(source, 'my.bay.json', bytesOf, nothing)
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults))
  return { desk, bay: outcome.value.bay, meshes: outcome.value.meshes }
}
const moved = (bay: Bay, by: number): Bay => ({
  ...bay,
  candidates: bay.candidates.map((c) => ({ ...c, at: [c.at[0] + by, c.at[1], c.at[2]] })),
})

describe('drawing', () => {
  test('everything comes once; after an edit only what it changed', async () => {
    const { desk, bay } = await opened()
    const first = await desk.draw({ bay, candidate: undefined, ticket: 1 })
    expect(first.faults.ok).toBe(true)
    expect(first.solids.map(({ key }) => key)).toEqual([...first.keepOuts, ...first.parts])
    expect(first.parts[0]).toBe('core')
    expect((await desk.draw({ bay, candidate: undefined, ticket: 2 })).solids).toEqual([])
    // An equal bay that is another object, as undo or reading again brings it, changes nothing.
    expect((await desk.draw({ bay: structuredClone(bay), candidate: undefined, ticket: 3 })).solids).toEqual([])
    const after = await desk.draw({ bay: moved(bay, -5), candidate: undefined, ticket: 4 })
    expect(new Set(after.solids.map(({ side }) => side))).toEqual(new Set(['part']))
    expect(after.origin).toEqual(first.origin)
  })

  test('coordinates are relative to the origin, bounds are those of the bay', async () => {
    const { desk, bay } = await opened()
    const { solids, origin } = await desk.draw({ bay, candidate: undefined, ticket: 1 })
    const core = solids.find(({ key }) => key === 'core')!
    const [at] = [bay.candidates[0].at]
    const xs = core.surface.positions.filter((_, i) => i % 3 === 0)
    expect((Math.min(...xs) + Math.max(...xs)) / 2 + origin[0]).toBeCloseTo(at[0], 3)
    expect((core.bounds.min[0] + core.bounds.max[0]) / 2).toBeCloseTo(at[0], 9)
  })

  test('a part that cannot be made is named, and what was drawn before stays listed', async () => {
    const { desk, bay } = await opened()
    const before = await desk.draw({ bay, candidate: undefined, ticket: 1 })
    const broken = structuredClone(bay)
    broken.candidates[0].pipes = [
      {
        id: 'p',
        name: 'P',
        from: 'turbo',
        to: 'throttle',
        outsideDiameter: 50,
        wall: 2,
        bendRadius: 900,
        path: [
          [0, 0, 0],
          [9, 9, 9],
        ],
      },
    ]
    const drawing = await desk.draw({ bay: broken, candidate: undefined, ticket: 2 })
    expect(drawing.faults.ok).toBe(false)
    expect(drawing.parts).toEqual(before.parts)
    expect(drawing.keepOuts).toEqual(before.keepOuts)
    const answer = await desk.ledger({ bay: broken, candidate: undefined, ticket: 2 }, nothing)
    expect(answer.kind === 'answered' && answer.ledger.ok).toBe(false)
  })
})

test('lines of a side are those of the core; without a candidate the keep-outs alone; a candidate that is not there is named', async () => {
  const desk = new DeskHere()
  const bay = sampleBay()
  const id = bay.candidates[0].id
  const things = drawnThings(bay, bay.candidates[0], new Map())
  expect(await desk.lines({ bay, candidate: id, view: 'front' })).toEqual(
    things.ok && { ok: true, value: drawing(things.value, views.front) },
  )
  const bare = await desk.lines({ bay, candidate: null, view: 'plan' })
  expect(bare.ok && bare.value.outlines.some(({ role }) => role === 'part')).toBe(false)
  expect(bare.ok && bare.value.outlines.length).toBeGreaterThan(0)
  expect((await desk.lines({ bay, candidate: 'nobody', view: 'side' })).ok).toBe(false)
})

describe('the ledger', () => {
  test('is that of core, whatever was computed before', async () => {
    const { desk, bay } = await opened()
    for (const by of [0, -1, 3]) {
      const answer = await desk.ledger({ bay: moved(bay, by), candidate: undefined, ticket: 1 }, nothing)
      const plain = ledger(moved(bay, by), undefined, new Map())
      if (answer.kind !== 'answered' || !answer.ledger.ok || !plain.ok) throw new Error('no ledger')
      expect(answer.ledger.value.pairs.map(({ part, keepOut, verdict }) => [part, keepOut, verdict])).toEqual(
        plain.value.pairs.map(({ part, keepOut, verdict }) => [part, keepOut, verdict]),
      )
    }
  })

  test('is not computed for a ticket that is no longer the newest', async () => {
    const { desk, bay } = await opened()
    const newest = new SharedArrayBuffer(4)
    await desk.watch(newest)
    Atomics.store(new Int32Array(newest), 0, 8)
    expect(await desk.ledger({ bay, candidate: undefined, ticket: 7 }, nothing)).toEqual({ kind: 'superseded' })
    expect((await desk.ledger({ bay, candidate: undefined, ticket: 8 }, nothing)).kind).toBe('answered')
  })
})

describe('pipes', () => {
  test('are told as core tells them; not for a ticket that is no longer the newest', async () => {
    const { desk, bay } = await opened(JSON.stringify(pipedBay()))
    const reply = await desk.bends({ bay, candidate: undefined, ticket: 1 })
    if (reply.kind !== 'answered') throw new Error('no answer')
    expect(reply.bends).toEqual(bends(bay, undefined, new Map()))
    // Two bends and the last straight: the third corner lies in line.
    expect(reply.bends.ok && reply.bends.value.pipes[0].table.length).toBe(3)
    const newest = new SharedArrayBuffer(4)
    await desk.watch(newest)
    Atomics.store(new Int32Array(newest), 0, 8)
    expect(await desk.bends({ bay, candidate: undefined, ticket: 7 })).toEqual({ kind: 'superseded' })
  })

  test('a sketch is the pipe as it might be, and changes nothing of what is drawn', async () => {
    const { desk, bay } = await opened(JSON.stringify(pipedBay()))
    await desk.draw({ bay, candidate: undefined, ticket: 1 })
    const other = withRoute(bay, 'wide', 'hot', {
      path: [
        [90, -1100, 40],
        [-20, -1100, 190],
      ],
      bendRadius: 85,
    })
    const sketch = await desk.sketch({ bay: other, candidate: 'wide', pipe: 'hot' })
    expect(sketch?.key).toBe('pipe-hot')
    expect(sketch?.bounds.min[1]).toBeLessThan(-1100)
    expect((await desk.draw({ bay, candidate: undefined, ticket: 2 })).solids).toEqual([])
    const bent = withRoute(bay, 'wide', 'hot', {
      path: [
        [90, -510, 40],
        [90, -520, 45],
      ],
      bendRadius: 85,
    })
    expect(await desk.sketch({ bay: bent, candidate: 'wide', pipe: 'hot' })).toBeNull()
  })
})

test('a ledger is given up half-way when its ticket is no longer the newest', async () => {
  const { desk, bay } = await opened()
  await desk.watch(new SharedArrayBuffer(4))
  // Five looks at the shared memory find the own ticket: one before the first pair, four at pairs. Then a newer one is there.
  const looks = vi.spyOn(Atomics as { load(array: Int32Array, index: number): number }, 'load').mockReturnValue(9)
  for (let i = 0; i < 5; i++) looks.mockReturnValueOnce(7)
  const answer = await desk.ledger({ bay, candidate: undefined, ticket: 7 }, nothing)
  expect(looks).toHaveBeenCalledTimes(6)
  looks.mockRestore()
  expect(answer).toEqual({ kind: 'superseded' })
  await desk.watch(new SharedArrayBuffer(4))
  expect((await desk.ledger({ bay, candidate: undefined, ticket: 0 }, nothing)).kind).toBe('answered')
})

describe('opening', () => {
  test('a bay that is not good leaves the one before in place', async () => {
    const { desk, bay } = await opened()
    await desk.draw({ bay, candidate: undefined, ticket: 1 })
    const planar = structuredClone(bay)
    planar.keepOuts = [
      {
        id: 'flat',
        name: 'Flat',
        role: 'body',
        shape: {
          kind: 'hull',
          points: [
            [0, 0, 0],
            [1, 0, 0],
            [0, 1, 0],
            [1, 1, 0],
          ],
        },
      },
    ]
    planar.ports = []
    planar.candidates = []
    for (const source of ['{', '[]', JSON.stringify(planar)]) {
      const outcome = await desk.open(source, 'bad.bay.json', noFiles, nothing)
      expect(outcome.ok).toBe(false)
      if (!outcome.ok) expect(outcome.faults[0].file).toBe('bad.bay.json')
    }
    expect((await desk.draw({ bay, candidate: undefined, ticket: 2 })).solids).toEqual([])
  })

  test('meshes are fetched, told of, and drawn lighter where they are heavy', async () => {
    const folder = new URL('../../assets/tarnbeck/', import.meta.url)
    const asked: string[] = []
    const files: BytesOf = async (file) => {
      asked.push(file)
      return good(new Uint8Array(readFileSync(new URL(file, folder))))
    }
    const source = readFileSync(new URL('tarnbeck.bay.json', folder), 'utf8')
    const { desk, bay, meshes } = await opened(source, files)
    expect(asked).toEqual(['bumper.ply.gz'])
    expect(meshes[0][1]).toMatchObject({ format: 'PLY', triangles: 108_000, closed: false })
    const { solids } = await desk.draw({ bay, candidate: undefined, ticket: 1 })
    const bumper = solids.find(({ key }) => key === 'bumper')!
    expect(bumper.light!.triangles.length).toBeLessThan(bumper.surface.triangles.length / 3)
    expect(solids.filter(({ light }) => light !== null)).toHaveLength(1)
  })

  test('a mesh that is not there is a fault at its keep-out', async () => {
    const bay = {
      ...sampleBay(),
      keepOuts: [{ id: 'scan', name: 'Scan', role: 'body', shape: { kind: 'mesh', file: 'scan.stl', unit: 'mm' } }],
      ports: [],
      candidates: [],
    }
    const outcome = await new DeskHere().open(JSON.stringify(bay), 'my.bay.json', noFiles, nothing)
    expect(outcome).toMatchObject({ ok: false, faults: [{ code: 'mesh-missing', file: 'scan.stl', item: 'scan' }] })
  })
})

test('a big mesh gets a better tree once, afterwards, and its gaps stay what they were', async () => {
  const bytes = stlBinary(bumpyMesh(450, 250, 3))
  const keepOut = {
    id: 'scan',
    name: 'Scan',
    role: 'body',
    shape: { kind: 'mesh', file: 'scan.stl', unit: 'mm', at: [0, 0, -400] },
  }
  const sample = sampleBay()
  const bay = { ...sample, keepOuts: [...sample.keepOuts, keepOut] }
  const { desk, bay: read } = await opened(JSON.stringify(bay), async () => good(bytes))
  const gaps = async () => {
    const answer = await desk.ledger({ bay: read, candidate: undefined, ticket: 1 }, nothing)
    if (answer.kind !== 'answered' || !answer.ledger.ok) throw new Error(JSON.stringify(answer))
    return answer.ledger.value.pairs.map(({ part, gap }) => [part, Math.round(gap * 1e6)])
  }
  const before = await gaps()
  expect(desk.betterTree()).toBe(true)
  expect(desk.betterTree()).toBe(false)
  expect(await gaps()).toEqual(before)
})

describe('the seat', () => {
  const path = ({ at, turn }: Bay['candidates'][number]) => ({
    start: { at: [at[0], at[1], at[2] - 900] as [number, number, number], turn },
    moves: [
      {
        shift: [0, 0, 900] as [number, number, number],
        pivot: [0, 0, 0] as [number, number, number],
        axis: [0, 1, 0] as [number, number, number],
        angle: 0,
      },
    ],
  })

  test('is judged as the core judges it: the own way in, mounts, and what comes off; superseded as all else', async () => {
    const { desk, bay } = await opened()
    const [candidate] = bay.candidates
    const plain = await desk.offered({ bay, candidate: undefined, ticket: 1, need: 3 })
    if (plain.kind !== 'answered') throw new Error('superseded')
    expect(plain.judged).toMatchObject({ way: null, mounts: null, setting: { ok: true } })
    expect(plain.judged.setting.ok && plain.judged.setting.value.withPart).toContain('core')
    const own = { ...bay, candidates: [{ ...candidate, offering: path(candidate) }] }
    const told = await desk.offered({ bay: own, candidate: undefined, ticket: 2, need: 3 })
    if (told.kind !== 'answered') throw new Error('superseded')
    expect(told.judged.way).toEqual(seat(own, undefined, new Map(), { need: 3, moves: path(candidate) }))
    const shared = new SharedArrayBuffer(4)
    void desk.watch(shared)
    expect(await desk.offered({ bay, candidate: undefined, ticket: 7, need: 3 })).toEqual({ kind: 'superseded' })
  })
})

describe('a mesh that is added', () => {
  const bytes = () => stlBinary(boxMesh([60, 80, 100]))

  test('is looked into, kept, and then drawn and held against like any other', async () => {
    const { desk, bay } = await opened()
    const found = await desk.inspectMesh('scan.stl', bytes())
    if (!found.ok) throw new Error(found.faults[0].code)
    expect(found.value).toMatchObject({ format: 'STL', closed: true })
    for (const k of [0, 1, 2]) expect(found.value.bounds.max[k]).toBeGreaterThan(found.value.bounds.min[k])
    expect(await desk.keepMesh('scan.stl')).toEqual(found.value)
    const shape = { kind: 'mesh', file: 'scan.stl', unit: 'mm', at: [5000, 0, 0] } as const
    const more: Bay = {
      ...bay,
      keepOuts: [...bay.keepOuts, { id: 'scan', name: 'Scan', role: 'body', shape: { ...shape, at: [5000, 0, 0] } }],
    }
    const drawing = await desk.draw({ bay: more, candidate: undefined, ticket: 1 })
    expect(drawing.faults.ok).toBe(true)
    expect(drawing.solids.find(({ key }) => key === 'scan')?.mesh).toBe(true)
    const answer = await desk.ledger({ bay: more, candidate: undefined, ticket: 1 }, nothing)
    if (answer.kind !== 'answered' || !answer.ledger.ok) throw new Error('no ledger')
    expect(answer.ledger.value.pairs.filter(({ keepOut }) => keepOut === 'scan').length).toBeGreaterThan(0)
    expect([...(await desk.openMeshes()).keys()]).toContain('scan.stl')
    // Its tree is bettered in quiet moments, once.
    while (desk.betterTree());
    expect(desk.betterTree()).toBe(false)
  })

  test('what is no mesh is refused and nothing is kept', async () => {
    const { desk } = await opened()
    const found = await desk.inspectMesh('scan.stl', bytes().slice(0, 300))
    expect(found.ok).toBe(false)
    expect(await desk.keepMesh('scan.stl')).toBeNull()
  })
})
