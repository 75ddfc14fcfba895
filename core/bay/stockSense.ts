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
  const troubles: Trouble[] = []
  const told = (code: string, field: Trouble['path'], expected: string, got: number) =>
    troubles.push({ code, path: [...path, ...field], expected, got })
  const [narrow, wide] = [Math.min(...item.insideDiameters), Math.max(...item.insideDiameters)]
  const outside = wide + 2 * item.wall
  if (item.wall >= narrow / 2)
    told('wall-too-thick', ['wall'], `less than half the inside diameter, ${narrow / 2}`, item.wall)
  if (item.form === 'elbow') {
    const leg = Math.min(...item.legs)
    if (item.insertion >= leg)
      told('insertion-too-deep', ['insertion'], `less than its shorter leg, ${leg}`, item.insertion)
    return [...troubles, ...tightAt(path, item.radius, outside / 2)]
  }
  if (2 * item.insertion > item.length)
    told('insertion-too-deep', ['insertion'], `at most half its length, ${item.length / 2}`, item.insertion)
  if (item.form === 'hump') {
    const { length, diameter } = item.hump
    if (length > item.length) told('hump-too-long', ['hump', 'length'], `at most its length, ${item.length}`, length)
    if (diameter < outside - rounding)
      told('hump-too-thin', ['hump', 'diameter'], `at least the hose's outside diameter, ${outside}`, diameter)
  }
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
