import { expect, test } from 'vitest'
import { bareCandidate, keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import { checkBay } from '../bay/read.ts'
import { type Bay, type Pipe, type Port, type Role, roles } from '../bay/schema.ts'
import type { Ledger } from './answer.ts'
import { ledger } from './ledger.ts'

/* What the bay file settles in words, held to what the ledger answers. */

function ledgerOf(bay: Bay): Ledger {
  const checked = checkBay(bay)
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults))
  const made = ledger(checked.value, undefined, new Map())
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}
const pair = (found: Ledger, part: string, other: string) =>
  found.pairs.find((each) => each.part === part && each.keepOut === other)

const tank = { length: 60, front: 0, rear: 0, below: 0, above: 0 }
const port = { id: 'p', face: 'end', u: 0, v: 0, outsideDiameter: 20, length: 30 } as const
const pipe: Pipe = {
  id: 'hot',
  name: 'Hot',
  from: 'turbo',
  to: 'tank-right:p',
  outsideDiameter: 20,
  wall: 1.5,
  bendRadius: 30,
  path: [],
}
/** In line with the stub, whose end is at Y 190, looking along +Y. */
const turbo: Port = { id: 'turbo', name: 'Turbo', at: [0, 490, 0], direction: [0, -1, 0], outsideDiameter: 20 }

test('a keep-out without clearance and uncertainty takes its role’s and 3 mm, and says so', () => {
  // Common practice, no source: the numbers are those that the file's description names.
  const usual: Record<Role, number> = {
    safety: 10,
    lamp: 8,
    cooling: 12,
    moving: 20,
    hot: 25,
    body: 6,
    service: 8,
  }
  const bare = { clearance: undefined, uncertainty: undefined }
  const shape = { kind: 'box', at: [200, 0, 0], size: [10, 10, 10] } as const
  const asked = roles.map((role) =>
    keepOut(role, { ...shape, at: [...shape.at], size: [...shape.size] }, { role, ...bare }),
  )
  const found = ledgerOf(JSON.parse(JSON.stringify(tinyBay(asked))))
  expect(Object.fromEntries(found.pairs.map(({ role, required }) => [role, required]))).toEqual(usual)
  for (const { uncertainty, assumed } of found.pairs)
    expect({ uncertainty, assumed }).toEqual({ uncertainty: 3, assumed: ['clearance', 'uncertainty'] })
})

test('each part carries its own tolerance, two parts carry both', () => {
  const candidate = bareCandidate({
    core: { depth: 100, width: 200, height: 80, tolerance: 1 },
    tanks: { left: { ...tank, tolerance: 2 }, right: { ...tank, ports: [port] } },
    pipes: [{ ...pipe, tolerance: 4 }],
  })
  const wall = keepOut('wall', { kind: 'halfSpace', point: [300, 0, 0], normal: [-1, 0, 0] })
  const found = ledgerOf(tinyBay([wall], candidate, [turbo]))
  const tolerances = found.pairs.map(({ part, keepOut: other, tolerance }) => [`${part} ${other}`, tolerance])
  expect(Object.fromEntries(tolerances)).toEqual({
    'core wall': 1,
    'tank-left wall': 2,
    'tank-right wall': 0,
    'stub-right-p wall': 0,
    'pipe-hot wall': 4,
    'pipe-hot core': 4 + 1,
    'pipe-hot tank-left': 4 + 2,
    'pipe-hot tank-right': 4,
    'pipe-hot stub-right-p': 4,
  })
})

test('across each face of a tank, u and v run the way the file says', () => {
  const taper = { depth: 0.5, height: 0.5 }
  // At u = 1 on a side face the section is the far end: X −25…25, Z −20…20, at Y 160; half way, at u = 0, Y 130.
  const cases = [
    ['end', 1, 1, [25, 160, 20]],
    ['front', 0, 1, [-37.5, 130, 30]],
    ['front', 1, -1, [-25, 160, -20]],
    ['rear', 0, 1, [37.5, 130, 30]],
    ['rear', -1, -1, [50, 100, -40]],
    ['below', 0, 1, [37.5, 130, -30]],
    ['above', 1, -1, [-25, 160, 20]],
  ] as const
  for (const [face, u, v, at] of cases) {
    const candidate = bareCandidate({
      tanks: { right: { ...tank, taper, ports: [{ ...port, face, u, v, outsideDiameter: 2e-3, length: 1e-3 }] } },
    })
    // A speck on the spot: nothing else of the stub, a thousandth long and thick, is that near.
    const speck = keepOut('speck', { kind: 'box', at: [...at], size: [1e-3, 1e-3, 1e-3] })
    const found = pair(ledgerOf(tinyBay([speck], candidate)), 'stub-right-p', 'speck')
    expect(found?.gap, `${face} ${u} ${v}`).toBe(0)
  }
})

test('ends face each other in line within a tenth of a degree, as a coupler takes up unnoticed', () => {
  const candidate = bareCandidate({ tanks: { right: { ...tank, ports: [port] } }, pipes: [pipe] })
  const aside = (degrees: number): Port => ({ ...turbo, at: [300 * Math.tan((degrees * Math.PI) / 180), 490, 0] })
  expect(ledgerOf(tinyBay([], candidate, [aside(0.09)])).unrouted).toEqual([])
  expect(ledgerOf(tinyBay([], candidate, [aside(0.11)])).unrouted).toEqual(['hot'])
  expect(ledgerOf(tinyBay([], candidate, [{ ...turbo, direction: [0.0019, -1, 0] }])).unrouted).toEqual(['hot'])
})

test('exempt is told only of what is there: not of a keep-out that is left out for a look', () => {
  const candidate = bareCandidate({ tanks: { right: { ...tank, ports: [port] } }, pipes: [pipe] })
  const block = keepOut('block', { kind: 'box', at: [0, 500, 0], size: [40, 20, 40] })
  const from = (enabled: boolean) =>
    ledgerOf(tinyBay([{ ...block, enabled }], candidate, [{ ...turbo, sitsOn: 'block' }])).exempt.map((e) => e.from)
  expect(from(true)).toEqual(['block', 'tank-right', 'stub-right-p'])
  expect(from(false)).toEqual(['tank-right', 'stub-right-p'])
})

test('parts of one welded body are not held against each other; pipes are held against them and each other', () => {
  const candidate = bareCandidate({
    tanks: { left: { ...tank, ports: [port] }, right: { ...tank, ports: [port] } },
    pipes: [pipe, { ...pipe, id: 'cold', from: 'tank-left:p', to: 'intake' }],
  })
  const intake: Port = { ...turbo, id: 'intake', at: [0, -490, 0], direction: [0, 1, 0] }
  const found = ledgerOf(tinyBay([], candidate, [turbo, intake]))
  const body = ['core', 'stub-left-p', 'stub-right-p', 'tank-left', 'tank-right']
  expect(found.pairs.map(({ part, keepOut: other }) => `${part} ${other}`).sort()).toEqual(
    [
      'pipe-hot pipe-cold',
      ...['pipe-cold', 'pipe-hot'].flatMap((name) => body.map((other) => `${name} ${other}`)),
    ].sort(),
  )
})
