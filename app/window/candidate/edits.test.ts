import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkBay, readBay } from '../../../core/bay/read.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { writeBay } from '../../../core/bay/write.ts'
import { faultTexts } from '../../wording.ts'
import { withEntry, withField } from '../state/edit.ts'
import { tinyBay } from '../../../test/kit/tinyBay.ts'
import { turboPort } from '../../../test/kit/jointedBay.ts'
import { rail } from '../../../test/kit/mountedBay.ts'
import { addSpring, addTool, bentOtherwise } from './benderEdits.ts'
import { addCandidate, areFirstLimits, copyCandidate, removeCandidate, shiftCandidate } from './candidateEdits.ts'
import { addFixing, isOpenFixing, removeFixing, setFixingKind } from './fixingEdits.ts'
import { setFluid } from './flowEdits.ts'
import {
  addHole,
  addMount,
  coreFaces,
  partsToSitOn,
  placeOn,
  removeHole,
  removeMount,
  setMountFixing,
  setMountKind,
  tankFaces,
  withMount,
} from './mountEdits.ts'
import { addPipe, freeEnds, pipeEndsIn, removePipe, setElbow, setPipeEnd, withPipe } from './pipeEdits.ts'
import {
  addStock,
  copyStock,
  removeStock,
  setCouplerForm,
  setTubeSize,
  type StockList,
  stockItems,
} from './stockEdits.ts'
import {
  addTank,
  addTankPort,
  removeTank,
  removeTankPort,
  renameTankPort,
  setOwnDirection,
  setTaper,
} from './tankEdits.ts'

const onRear = { part: 'core' as const, face: 'rear' as const, u: 0, v: 0 }
const plain = { size: [40, 40], thickness: 4 }
const start: Bay = {
  ...tinyBay([rail], undefined, [turboPort(), turboPort({ id: 'inlet', at: [0, -400, 0] })]),
  candidates: [],
}
const example = JSON.parse(
  readFileSync(new URL('../../../assets/tarnbeck/tarnbeck.bay.json', import.meta.url), 'utf8'),
) as Bay
const wide = example.candidates[0]

/** Numbers from which an edit picks what it is about. */
type Pick4 = readonly [number, number, number, number]
type Step = (bay: Bay, picks: Pick4) => Bay

const at = <T>(list: readonly T[], n: number): T | undefined => (list.length > 0 ? list[n % list.length] : undefined)
const lists: readonly StockList[] = ['tubes', 'elbows', 'couplers', 'clamps', 'benders']
const sideOf = (n: number) => (n % 2 === 0 ? 'left' : 'right')
/** An edit of a candidate, where there is one. */
const ofCandidate =
  (edit: (bay: Bay, index: number, picks: Pick4) => Bay): Step =>
  (bay, picks) =>
    bay.candidates.length === 0 ? bay : edit(bay, picks[0] % bay.candidates.length, picks)
const ofPipe = (edit: (bay: Bay, index: number, pipe: string, picks: Pick4) => Bay): Step =>
  ofCandidate((bay, i, picks) => {
    const pipe = at(bay.candidates[i].pipes ?? [], picks[1])
    return pipe ? edit(bay, i, pipe.id, picks) : bay
  })
const ofMount = (edit: (bay: Bay, index: number, mount: string, picks: Pick4) => Bay): Step =>
  ofCandidate((bay, i, picks) => {
    const mount = at(bay.candidates[i].mounts ?? [], picks[1])
    return mount ? edit(bay, i, mount.id, picks) : bay
  })

const steps: Record<string, Step> = {
  addCandidate: (bay) => addCandidate(bay).bay,
  copyCandidate: ofCandidate((bay, i) => copyCandidate(bay, i).bay),
  removeCandidate: ofCandidate((bay, i, [, b]) => (b % 3 === 0 ? removeCandidate(bay, i) : bay)),
  shiftCandidate: ofCandidate((bay, i, [, b]) => shiftCandidate(bay, i, b % 2 === 0 ? 1 : -1)),
  addTank: ofCandidate((bay, i, [, b]) => addTank(bay, i, sideOf(b))),
  removeTank: ofCandidate((bay, i, [, b, c]) => (c % 3 === 0 ? removeTank(bay, i, sideOf(b)).bay : bay)),
  addTankPort: ofCandidate((bay, i, [, b]) => addTankPort(bay, i, sideOf(b))),
  removeTankPort: ofCandidate((bay, i, [, b, c]) => {
    const port = at(bay.candidates[i].tanks?.[sideOf(b)]?.ports ?? [], c)
    return port ? removeTankPort(bay, i, sideOf(b), port.id).bay : bay
  }),
  renameTankPort: ofCandidate((bay, i, [, b, c, d]) => {
    const port = at(bay.candidates[i].tanks?.[sideOf(b)]?.ports ?? [], c)
    return port ? renameTankPort(bay, i, sideOf(b), port.id, `new-${d}`) : bay
  }),
  setTaper: ofCandidate((bay, i, [, b, c]) => setTaper(bay, i, sideOf(b), c % 2 === 0)),
  setOwnDirection: ofCandidate((bay, i, [, b, c, d]) => setOwnDirection(bay, i, sideOf(b), c % 3, d % 2 === 0)),
  addPipe: ofCandidate((bay, i, [, b, c]) => {
    const ends = pipeEndsIn(bay, bay.candidates[i])
    const free = freeEnds(bay, bay.candidates[i])
    if (b % 2 === 0) return free ? addPipe(bay, i, ...free).bay : bay
    const [from, to] = [at(ends, b), at(ends, c)]
    return from && to && from !== to ? addPipe(bay, i, from, to).bay : bay
  }),
  removePipe: ofPipe((bay, i, pipe, [, , c]) => (c % 3 === 0 ? removePipe(bay, i, pipe) : bay)),
  setPipeEnd: ofPipe((bay, i, pipe, [, , c, d]) => {
    const port = at(pipeEndsIn(bay, bay.candidates[i]), c)
    return port ? setPipeEnd(bay, i, pipe, d % 2 === 0 ? 'from' : 'to', port) : bay
  }),
  addCorner: ofPipe((bay, i, pipe, [, , c, d]) =>
    withPipe(bay, i, pipe, (before) => ({ ...before, path: [...before.path, [c, d, 40]] })),
  ),
  setElbow: ofPipe((bay, i, pipe, [, , c, d]) => {
    const elbow = at(bay.stock?.elbows ?? [], d)
    return setElbow(bay, i, pipe, c % 3, elbow?.id)
  }),
  nameStock: ofPipe((bay, i, pipe, [, , c, d]) =>
    withPipe(bay, i, pipe, (before) => {
      const [tube, bender, coupler, clamp] = (['tubes', 'benders', 'couplers', 'clamps'] as const).map((list) =>
        at(stockItems(bay, list), d),
      )
      if (c % 4 === 0 && tube) {
        const of = bay.stock?.tubes?.find(({ id }) => id === tube.id)
        return of ? { ...before, tube: of.id, outsideDiameter: of.outsideDiameter, wall: of.wall } : before
      }
      if (c % 4 === 1 && bender) return { ...before, bender: bender.id }
      if (!coupler) return before
      const takesGap = d % 2 === 0 && bay.stock?.couplers?.find(({ id }) => id === coupler.id)?.form !== 'elbow'
      const clamps = clamp ? { clamps: { port: { clamp: clamp.id } } } : {}
      const joint = { kind: 'coupler' as const, coupler: coupler.id, ...clamps, ...(takesGap && { gap: 5 }) }
      return { ...before, joints: { ...before.joints, [c % 4 === 2 ? 'from' : 'to']: joint } }
    }),
  ),
  addMount: ofCandidate((bay, i, [, b, c, d]) => {
    const kind = at(['plate', 'block', 'pin'] as const, b) ?? 'plate'
    const part = at(partsToSitOn(bay.candidates[i]), c) ?? 'core'
    const on = placeOn({ part: 'core', face: 'rear', u: 0, v: 0 }, part, at([...coreFaces, ...tankFaces], d) ?? 'end')
    const fixing = at(bay.fixings ?? [], d)
    return addMount(bay, i, kind, on, c % 2 === 0 ? undefined : fixing?.id).bay
  }),
  removeMount: ofMount((bay, i, mount, [, , c]) => (c % 3 === 0 ? removeMount(bay, i, mount) : bay)),
  setMountKind: ofMount((bay, i, mount, [, , c]) =>
    setMountKind(bay, i, mount, at(['plate', 'block', 'pin'] as const, c) ?? 'pin'),
  ),
  moveMount: ofMount((bay, i, mount, [, , c, d]) =>
    withMount(bay, i, mount, (before) => ({
      ...before,
      on: placeOn(before.on, at(['core', 'tank-left', 'tank-right'] as const, c) ?? 'core', at(tankFaces, d) ?? 'end'),
    })),
  ),
  addHole: ofMount((bay, i, mount) => addHole(bay, i, mount)),
  removeHole: ofMount((bay, i, mount, [, , c]) => removeHole(bay, i, mount, c % 3)),
  setMountFixing: ofMount((bay, i, mount, [, , c, d]) => {
    const fixing = at(bay.fixings ?? [], d)
    return fixing ? setMountFixing(bay, i, mount, c % 2, fixing.id) : bay
  }),
  addFixing: (bay, [a]) =>
    addFixing(bay, at(['hole', 'stud', 'thread', 'slot'] as const, a) ?? 'hole', { at: [0, a, 0], axis: [0, 0, 1] })
      .bay,
  removeFixing: (bay, [a, b]) => {
    const fixing = at(bay.fixings ?? [], a)
    return fixing && b % 2 === 0 ? removeFixing(bay, fixing.id).bay : bay
  },
  setFixingKind: (bay, [a, b]) => {
    const fixing = at(bay.fixings ?? [], a)
    return fixing ? setFixingKind(bay, fixing.id, at(['hole', 'stud', 'thread', 'slot'] as const, b) ?? 'hole') : bay
  },
  addTool: (bay, [a]) => {
    const n = a % Math.max(1, bay.benders?.length ?? 0)
    const tools = bay.benders?.[n]?.tools
    if (!tools) return bay
    const springs = tools[0].springBackOf ?? []
    const path = ['benders', n, 'tools', 0, 'springBackOf']
    return addSpring(
      addTool(bay, ['benders', n, 'tools'], tools.length),
      path,
      springs.map(({ material }) => material),
      tools[0].springBack,
    )
  },
  addStock: (bay, [a, b]) =>
    addStock(bay, at(lists, a) ?? 'tubes', at(['straight', 'hump', 'elbow'] as const, b) ?? 'straight').bay,
  copyStock: (bay, [a, b]) => {
    const list = at(lists, a) ?? 'tubes'
    const items = stockItems(bay, list)
    return items.length > 0 ? copyStock(bay, list, b % items.length).bay : bay
  },
  removeStock: (bay, [a, b]) => {
    const list = at(lists, a) ?? 'tubes'
    const items = stockItems(bay, list)
    return items.length > 0 ? removeStock(bay, list, b % items.length).bay : bay
  },
  setCouplerForm: (bay, [a, b]) =>
    setCouplerForm(bay, a % 4, at(['straight', 'hump', 'elbow'] as const, b) ?? 'straight'),
  setTubeSize: (bay, [a, b]) => setTubeSize(bay, a % 3, 'wall', 1 + (b % 5) / 10),
  setFluid: (bay, [a]) => setFluid(bay, at(['none', 'air', 'liquid'] as const, a) ?? 'none'),
}

/** What is refused by name, and leaves the bay as it was: these the pure edits do not settle by themselves. */
const refused =
  /^(pin-on-solid|unknown-part|same-port|stock-differs|no-such-corner|too-many|points-inward|duplicate-id)$/

const names = Object.keys(steps)
const anySteps = fc.array(
  fc.tuple(fc.constantFrom(...names), fc.tuple(fc.nat(59), fc.nat(59), fc.nat(59), fc.nat(59))),
  { minLength: 150, maxLength: 200, size: 'max' },
)

describe.each([
  ['from a bay without anything', start, 21, 60],
  ['from the example', example, 22, 30],
])('any sequence of adds and removes, %s', (_, from, seed, numRuns) => {
  test(`seed ${seed}: reads back the same through its file, and refusals are of the kinds that are known`, () => {
    const done = new Map<string, number>()
    fc.assert(
      fc.property(anySteps, (sequence) => {
        let bay = from
        for (const [name, picks] of sequence) {
          const edited = steps[name](bay, picks)
          if (edited === bay) continue
          const checked = checkBay(edited)
          if (!checked.ok) {
            const unknown = checked.faults.filter(({ code }) => !refused.test(code))
            expect(faultTexts(unknown), name).toEqual([])
            continue
          }
          done.set(name, (done.get(name) ?? 0) + 1)
          bay = edited
        }
        const read = readBay(writeBay(bay))
        expect(read.ok && read.value).toEqual(JSON.parse(JSON.stringify(bay)))
      }),
      { seed, numRuns, endOnFailure: true },
    )
    // Each kind of edit was really done, and often.
    expect(names.filter((name) => (done.get(name) ?? 0) < 8)).toEqual([])
  })
})

describe('what goes along is said', () => {
  test('a tank takes its pipe and its brackets', () => {
    const { bay, also } = removeTank(example, 0, 'left')
    expect(also).toEqual([
      { kind: 'pipe', name: 'Hot side' },
      { kind: 'mount', name: 'Bracket, upper left' },
      { kind: 'mount', name: 'Bracket, lower left' },
    ])
    expect(bay.candidates[0].pipes?.map(({ id }) => id)).toEqual(['cold'])
    expect(bay.candidates[1]).toBe(example.candidates[1])
  })
  test('a stub takes its pipe', () => {
    expect(removeTankPort(example, 0, 'right', 'cold').also).toEqual([{ kind: 'pipe', name: 'Cold side' }])
  })
  test('a renamed stub keeps its pipe', () => {
    const { pipes } = renameTankPort(example, 0, 'left', 'hot', 'inlet').candidates[0]
    expect(pipes?.[0].to).toBe('tank-left:inlet')
    expect(pipes?.[1]).toEqual(wide.pipes?.[1])
  })
  test('stock: tube, coupler and clamp are taken from the pipes that name them, of every candidate', () => {
    const users = (list: StockList, id: string) =>
      removeStock(
        example,
        list,
        stockItems(example, list).findIndex((each) => each.id === id),
      ).also
    expect(users('tubes', 'tube-57').every(({ kind, of }) => kind === 'tube' && of !== undefined)).toBe(true)
    expect(users('tubes', 'tube-57').length).toBeGreaterThanOrEqual(2)
    expect(users('couplers', 'hump-57').filter(({ of }) => of === wide.name)).toEqual([
      { kind: 'joint', name: 'Hot side', of: wide.name },
      { kind: 'joint', name: 'Cold side', of: wide.name },
    ])
    expect(users('elbows', 'cast-57-90')).toEqual([])
  })
  test('a fixing takes the mounts that have no other', () => {
    const [first] = example.fixings ?? []
    const { also, bay } = removeFixing(example, first.id)
    expect(also.filter(({ of }) => of === wide.name)).toEqual([
      { kind: 'mount', name: 'Bracket, upper left', of: wide.name },
    ])
    expect(checkBay(bay).ok).toBe(true)
  })
})

describe('what pipes are bent with', () => {
  const tools = ['benders', 0, 'tools']
  const without = (...path: (string | number)[]) => withField(example, [...tools, ...path], undefined)
  const used = example.benders?.[0].tools.findIndex(({ outsideDiameter }) => outsideDiameter === 57) ?? -1
  const { bendRadius } = wide.pipes?.[0] ?? {}
  const die = example.benders?.[0].tools[used].radii.indexOf(bendRadius ?? 0) ?? -1
  test('a die, a tool and a spring-back that a pipe needs tell which', () => {
    expect(bentOtherwise(example, without(used, 'radii', die))).toContain('Hot side (Wide 90)')
    expect(bentOtherwise(example, without(used))).toContain('Hot side (Wide 90)')
    expect(bentOtherwise(example, without(used, 'springBackOf'))).toContain('Hot side (Wide 90)')
  })
  test('what none needs tells none, nor a tool of which there is another like it', () => {
    const other = (used + 1) % (example.benders?.[0].tools.length ?? 1)
    expect(bentOtherwise(example, without(other))).toEqual([])
    const copied = withEntry(example, tools, used + 1, example.benders?.[0].tools[used])
    expect(bentOtherwise(copied, withField(copied, [...tools, used], undefined))).toEqual([])
  })
})

describe('what is begun with', () => {
  test('limits of a new candidate are known to be defaults until one of them is typed', () => {
    const bay = addCandidate(example).bay
    const fresh = bay.candidates.at(-1)?.limits
    expect(areFirstLimits(fresh)).toBe(true)
    expect(areFirstLimits({ ...fresh, width: { max: 640 } })).toBe(false)
    expect(areFirstLimits(wide.limits)).toBe(false)
    expect(areFirstLimits(addCandidate(start).bay.candidates[0].limits)).toBe(true)
  })
  test('the first hole of a mount that has none, on a fixing of its own where the car has none', () => {
    const bare = removeFixing(addMount(addCandidate(start).bay, 0, 'plate', onRear).bay, 'fixing-point-1').bay
    const mount = { id: 'plate', name: 'Plate', on: onRear, shape: { kind: 'plate' as const, ...plain } }
    const before = withField(bare, ['candidates', 0, 'mounts'], [mount])
    const after = addHole(addHole(before, 0, 'plate'), 0, 'plate')
    expect(after.fixings?.length).toBe(1)
    // A diameter of 11 from the edge of a side of 40.
    expect(after.candidates[0].mounts?.[0].shape).toMatchObject({ holes: [{ at: [0, 0] }, { at: [9, 0] }] })
    expect(checkBay(after).ok).toBe(true)
  })
  test('from nothing: a core, tanks, stubs and a pipe between the first ends that are free', () => {
    let bay = addCandidate(start).bay
    bay = addTankPort(addTank(bay, 0, 'left'), 0, 'left')
    bay = addTankPort(addTank(bay, 0, 'right'), 0, 'right')
    expect(freeEnds(bay, bay.candidates[0])).toEqual(['turbo', 'tank-left:port'])
    bay = addPipe(bay, 0, 'turbo', 'tank-left:port').bay
    expect(freeEnds(bay, bay.candidates[0])).toEqual(['inlet', 'tank-right:port'])
    expect(bay.candidates[0].pipes?.[0]).toMatchObject({
      name: 'Pipe 1',
      outsideDiameter: 20,
      bendRadius: 20,
      path: [],
    })
    expect(checkBay(bay).ok).toBe(true)
  })
  test('a bracket with a fixing of its own lies just on it', () => {
    const bay = addMount(addCandidate(start).bay, 0, 'plate', { part: 'core', face: 'below', u: 0, v: 0 }).bay
    const [{ at: place, axis, kind }] = bay.fixings ?? []
    const { core, at: middle } = bay.candidates[0]
    expect(place).toEqual([middle[0], middle[1], middle[2] - core.height / 2 - 4])
    expect(axis).toEqual([0, 0, 1])
    expect(isOpenFixing(kind)).toBe(false)
  })
  test('a copy stands behind the one that it comes from, under a name of its own', () => {
    const { bay, id } = copyCandidate(copyCandidate(example, 0).bay, 0)
    expect(bay.candidates.slice(0, 3).map(({ name }) => name)).toEqual(['Wide 90', 'Wide 90, copy 2', 'Wide 90, copy'])
    expect(id).toBe('wide-90-copy-2')
  })
})
