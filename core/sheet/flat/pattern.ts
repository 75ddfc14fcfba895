import type { Polytope } from '../../shape/form.ts'
import { type Flat, frameOf, framesMeet } from '../drawing/view.ts'
import { areaOf, sharedOf } from '../drawing/region.ts'
import { rimEdges, type RimEdge } from './rimEdges.ts'
import { type Hinge, type Net, type NetFace, unfold } from './unfold.ts'

/** A piece of card to cut out and fold; outside up. mm. */
export interface PatternPiece {
  readonly faces: readonly NetFace[]
  readonly hinges: readonly Hinge[]
  /** To cut along, counter-clockwise, round the tabs. */
  readonly outline: readonly Flat[]
  readonly tabs: readonly Tab[]
  /** Edges that a tab of the same number is glued to, from behind. */
  readonly bare: readonly { readonly number: number; readonly edge: RimEdge }[]
}

export interface Tab {
  /** Of the seam, the same on the edge that it is glued to. */
  readonly number: number
  readonly edge: RimEdge
  /** From the edge's beginning round to its end. */
  readonly corners: readonly Flat[]
  /** null: to what the body stands on. */
  readonly gluedTo: number | null
}

/** Depths of a tab that are tried, mm; the narrowest still takes glue. */
const depths = [14, 10, 7]
/** Overlap up to this is rounding, mm². */
const dust = 0.01

/**
 * A convex body as pieces of card with glue tabs, one for each seam. Nothing of a piece lies on another part of it: where
 * faces or tabs would, a face is cut off as a piece of its own.
 * @param open faces that are left out; their edges get tabs to glue the body down by
 * @returns pieces; in none do faces and tabs overlap by more than 0.01 mm²
 */
export function pattern(body: Polytope, root: number, open: readonly number[] = []): PatternPiece[] {
  const all = body.faces.map((_, face) => face).filter((face) => !open.includes(face))
  let groups: Group[] = [{ root, faces: new Set(all) }]
  // Each round cuts off a face, and a face by itself has room for all its tabs: convex, each tab within its edge's strip.
  for (;;) {
    const laid = groups.map((group) => laidGroup(body, group))
    const tight = laid.findIndex(({ faces }) => overlapping(faces))
    const tabbed = tight < 0 ? withTabs(body, laid, open) : null
    if (tabbed && 'pieces' in tabbed) return tabbed.pieces
    groups = cutOff(groups, laid, tabbed?.stuck ?? tight)
  }
}

interface Group {
  readonly root: number
  readonly faces: ReadonlySet<number>
}

function laidGroup(body: Polytope, { root, faces }: Group): Net {
  const others = body.faces.map((_, face) => face).filter((face) => !faces.has(face))
  return unfold(body, root, others)
}

const overlaps = (a: readonly Flat[], b: readonly Flat[]): boolean =>
  framesMeet(frameOf(a), frameOf(b)) && Math.abs(areaOf(sharedOf([a], [b]))) > dust

const overlapping = (faces: readonly NetFace[]): boolean =>
  faces.some(({ corners }, k) => faces.slice(0, k).some((other) => overlaps(corners, other.corners)))

/** The face that was laid last hangs on one hinge only. */
function cutOff(groups: readonly Group[], laid: readonly Net[], from: number): Group[] {
  const last = laid[from].faces[laid[from].faces.length - 1].face
  return groups.flatMap((group, k): Group[] => {
    if (k !== from) return [group]
    const rest = new Set([...group.faces].filter((face) => face !== last))
    return [
      { ...group, faces: rest },
      { root: last, faces: new Set([last]) },
    ]
  })
}

interface Place {
  readonly piece: number
  readonly edge: RimEdge
}

function withTabs(
  body: Polytope,
  nets: readonly Net[],
  open: readonly number[],
): { readonly pieces: PatternPiece[] } | { readonly stuck: number } {
  const rims = nets.map((net) => rimEdges(body, net))
  const seams = seamsOf(rims)
  const tabs: Tab[][] = nets.map(() => [])
  const bare: PatternPiece['bare'][number][][] = nets.map(() => [])
  for (const [k, places] of seams.entries()) {
    const made = tabFor(places, nets, tabs, open)
    if (!made) return { stuck: largest(places, nets) }
    tabs[made.place.piece].push({ ...made.tab, number: k + 1 })
    for (const other of places) if (other !== made.place) bare[other.piece].push({ number: k + 1, edge: other.edge })
  }
  return {
    pieces: nets.map(({ faces, hinges }, k) => ({
      faces,
      hinges,
      outline: outlineOf(rims[k], tabs[k]),
      tabs: tabs[k],
      bare: bare[k],
    })),
  }
}

/** A piece of more than one face, so that cutting off goes on; both ends of a seam of single faces always find room. */
const largest = (places: readonly Place[], nets: readonly Net[]): number =>
  places.reduce(
    (best, { piece }) => (nets[piece].faces.length > nets[best].faces.length ? piece : best),
    places[0].piece,
  )

/** The places of each cut edge: two, or one where the face beyond was left out. */
function seamsOf(rims: readonly (readonly RimEdge[])[]): Place[][] {
  const seams = new Map<string, Place[]>()
  rims.forEach((edges, piece) => {
    for (const edge of edges) {
      const key = [edge.face, edge.beyond].sort((a, b) => a - b).join()
      seams.set(key, [...(seams.get(key) ?? []), { piece, edge }])
    }
  })
  return [...seams.values()]
}

interface MadeTab {
  readonly place: Place
  readonly tab: Omit<Tab, 'number'>
}

function tabFor(
  places: readonly Place[],
  nets: readonly Net[],
  tabs: readonly (readonly Tab[])[],
  open: readonly number[],
): MadeTab | null {
  const made = depths.flatMap((depth) =>
    places.map((place) => ({ place, depth, corners: tabCorners(place.edge, depth) })),
  )
  const clear = made.filter(
    ({ place: { piece }, corners }) =>
      nets[piece].faces.every((face) => !overlaps(corners, face.corners)) &&
      tabs[piece].every((tab) => !overlaps(corners, tab.corners)),
  )
  const lands = clear.find(({ place, depth }) => {
    const partner = places.find((each) => each !== place)
    return !partner || landsOn(nets[partner.piece], partner.edge, depth)
  })
  // Beside a face that is narrower than any tab, the narrowest tab has to do.
  const chosen = lands ?? clear.at(-1)
  if (!chosen) return null
  const { place, corners } = chosen
  const { edge } = place
  return { place, tab: { edge, corners, gluedTo: open.includes(edge.beyond) ? null : edge.beyond } }
}

/** Tapered, so that tabs of neighbouring edges leave each other room when they are folded in. */
function tabCorners({ from, to }: RimEdge, depth: number): Flat[] {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const long = Math.hypot(dx, dy)
  const [ux, uy] = [dx / long, dy / long]
  const inset = Math.min(depth, long / 3)
  const at = (s: number, out: number): Flat => [from[0] + s * ux + out * uy, from[1] + s * uy - out * ux]
  return [from, at(inset, depth), at(long - inset, depth), to]
}

/** Folded in, the tab lies behind the face that it is glued to, and does not stick out of it. */
function landsOn(net: Net, edge: RimEdge, depth: number): boolean {
  const face = net.faces.find((each) => each.face === edge.face)
  if (!face) return false
  const tab = tabCorners({ ...edge, from: edge.to, to: edge.from }, depth)
  const held = Math.abs(areaOf(sharedOf([tab], [face.corners])))
  return held >= Math.abs(areaOf([tab])) - dust
}

const outlineOf = (rim: readonly RimEdge[], tabs: readonly Tab[]): Flat[] =>
  rim.flatMap((edge) => {
    const tab = tabs.find((each) => each.edge === edge)
    return tab ? tab.corners.slice(0, -1) : [edge.from]
  })
