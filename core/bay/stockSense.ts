import type { BayView, Entry } from './bayView.ts'
import type { Trouble } from './trouble.ts'
import type { Bender, Clamp, Coupler, StockElbow, StockTube } from './workshopSchema.ts'

/** What is wrong within single items of stock and benders, whose single values are right. */
export const stockTroubles = (view: BayView): Trouble[] => [
  ...view.tubes.flatMap(thickWall),
  ...view.elbows.flatMap((entry) => [...thickWall(entry), ...tightElbow(entry)]),
  ...view.couplers.flatMap(couplerTroubles),
  ...view.clamps.flatMap(clampTroubles),
  ...view.benders.flatMap(materialsTwice),
]

function thickWall({ path, item: { wall, outsideDiameter } }: Entry<StockTube | StockElbow>): Trouble[] {
  if (wall < outsideDiameter / 2) return []
  const expected = `less than half the outside diameter, ${outsideDiameter / 2}`
  return [{ code: 'wall-too-thick', path: [...path, 'wall'], expected, got: wall }]
}

/** Sums of typed sizes come out a rounding too large: less than this is none, mm. */
const rounding = 1e-9

/** Tighter than this, the inside of a bend would cross itself. */
const tightAt = (path: Trouble['path'], radius: number, halfDiameter: number): Trouble[] =>
  radius >= halfDiameter - rounding
    ? []
    : [
        {
          code: 'bend-too-tight',
          path: [...path, 'radius'],
          expected: `at least half its outside diameter, ${halfDiameter}`,
          got: radius,
        },
      ]

const tightElbow = ({ path, item }: Entry<StockElbow>): Trouble[] =>
  tightAt(path, item.radius, item.outsideDiameter / 2)

function couplerTroubles({ path, item }: Entry<Coupler>): Trouble[] {
  const [narrow, wide] = [Math.min(...item.insideDiameters), Math.max(...item.insideDiameters)]
  const outside = wide + 2 * item.wall
  const troubles: Trouble[] = []
  if (item.wall >= narrow / 2)
    troubles.push({
      code: 'wall-too-thick',
      path: [...path, 'wall'],
      expected: `less than half the inside diameter, ${narrow / 2}`,
      got: item.wall,
    })
  const deepest = item.form === 'elbow' ? Math.min(...item.legs) : item.length / 2
  if (item.insertion > deepest || (item.form === 'elbow' && item.insertion === deepest))
    troubles.push({
      code: 'insertion-too-deep',
      path: [...path, 'insertion'],
      expected: item.form === 'elbow' ? `less than its shorter leg, ${deepest}` : `at most half its length, ${deepest}`,
      got: item.insertion,
    })
  if (item.form === 'elbow') troubles.push(...tightAt(path, item.radius, outside / 2))
  if (item.form === 'hump') troubles.push(...humpTroubles(item, outside, path))
  return troubles
}

function humpTroubles(
  { hump, length }: Extract<Coupler, { form: 'hump' }>,
  outside: number,
  path: Trouble['path'],
): Trouble[] {
  const troubles: Trouble[] = []
  if (hump.length > length)
    troubles.push({
      code: 'hump-too-long',
      path: [...path, 'hump', 'length'],
      expected: `at most its length, ${length}`,
      got: hump.length,
    })
  if (hump.diameter < outside - rounding)
    troubles.push({
      code: 'hump-too-thin',
      path: [...path, 'hump', 'diameter'],
      expected: `at least the hose's outside diameter, ${outside}`,
      got: hump.diameter,
    })
  return troubles
}

const clampTroubles = ({ path, item: { least, most } }: Entry<Clamp>): Trouble[] =>
  least > most
    ? [{ code: 'min-over-max', path: [...path, 'least'], expected: `at most \`most\`, ${most}`, got: least }]
    : []

function materialsTwice({ path, item }: Entry<Bender>): Trouble[] {
  return item.tools.flatMap((tool, index) => {
    const seen = new Set<string>()
    return (tool.springBackOf ?? []).flatMap(({ material }, row): Trouble[] => {
      if (!seen.has(material)) {
        seen.add(material)
        return []
      }
      const field = [...path, 'tools', index, 'springBackOf', row, 'material']
      return [{ code: 'duplicate-material', path: field, expected: 'each material once', got: material }]
    })
  })
}
