import { fileURLToPath } from 'node:url'
import { openBay } from '../../app/files/bayFolder.ts'
import { sheetFonts } from '../../app/command/fonts.ts'
import { sheetOrigin } from '../../app/command/sheetOrigin.ts'
import { makeSet } from '../../app/sheet/set.ts'
import type { SheetSettings } from '../../app/sheet/settings.ts'
import { drawnThings } from '../../core/sheet/drawing/drawing.ts'
import { meshSight } from '../../core/sheet/drawing/meshSight.ts'
import { areaOf, unionOf } from '../../core/sheet/drawing/region.ts'
import { solidSight } from '../../core/sheet/drawing/solidSight.ts'
import { type Flat, type View, views } from '../../core/sheet/drawing/view.ts'
import type { MeshForm, Solid } from '../../core/shape/form.ts'
import { must } from './ledgerScenes.ts'
import type { Scene } from './scene.ts'

/** The outline of the largest mesh of the Tarnbeck bay from each side, and its whole set of sheets. */
export async function sheetScenes(root: URL): Promise<Scene[]> {
  const path = fileURLToPath(new URL('assets/tarnbeck/tarnbeck.bay.json', root))
  const opened = must(await openBay(path))
  const { bay, meshes } = opened
  const things = must(drawnThings(bay, bay.candidates[0], meshes))
  const { solid, form } = largestMesh(things.map(({ solid }) => solid))
  const sides = Object.values(views)
  return [outlineScene(solid, form, sides), await setScene(path, opened)]
}

function largestMesh(solids: readonly Solid[]): { solid: Solid; form: MeshForm } {
  const all = solids.flatMap((solid) =>
    solid.forms.flatMap((form) => (form.form === 'mesh' ? [{ solid, form, count: form.mesh.triangles.length }] : [])),
  )
  return all.sort((a, b) => b.count - a.count)[0]
}

function outlineScene(solid: Solid, form: MeshForm, sides: readonly View[]): Scene {
  const ours = 'outline by the rim of the triangles'
  return {
    name: 'Outline of a mesh, from the front, the side and above',
    inputs: `${form.mesh.triangles.length / 3} triangles; answers are areas`,
    count: sides.length,
    aims: [{ way: ours, than: 'clipper2', times: 3 }],
    ways: [
      { name: ours, run: (i) => areaOf(solidSight(solid, sides[i]).outline) },
      {
        name: 'clipper2-ts, union of all triangles with all their edges',
        baseline: true,
        once: true,
        most: sides.length,
        // Both hold places to 1e-5 mm; along an outline of metres that is a few hundredths of a square millimetre.
        within: 1,
        run: (i) => areaOf(unionOf(trianglesOf(form, sides[i]))),
      },
    ],
  }
}

function trianglesOf(form: MeshForm, view: View): Flat[][] {
  const { corners, triangles } = meshSight(form, view)
  const at = (k: number): Flat => [corners[3 * triangles[k]], corners[3 * triangles[k] + 1]]
  return Array.from({ length: triangles.length / 3 }, (_, t) => [at(3 * t), at(3 * t + 1), at(3 * t + 2)])
}

const settings: SheetSettings = {
  paper: 'A4',
  units: 'mm',
  projection: 'first-angle',
  scale: null,
  revision: 'A',
  date: '2026-01-01',
  sheets: null,
  separator: ',',
}

async function setScene(path: string, opened: Parameters<typeof sheetOrigin>[1]): Promise<Scene> {
  const { bay, meshes } = opened
  const whole = 'every page and file, from the bay as read'
  const request = {
    bay,
    candidate: undefined,
    meshes,
    origin: must(await sheetOrigin(path, opened)),
    settings,
    fonts: await sheetFonts(),
  }
  return {
    name: 'Tarnbeck, the whole set of sheets',
    inputs: 'A4, mm, all sheets; the answer is the number of bytes',
    count: 1,
    aims: [{ way: whole, ms: 5000 }],
    ways: [
      {
        name: whole,
        once: true,
        run: async () => {
          const set = must(await makeSet(request, { stop: () => null, progress: () => undefined }))
          return set ? set.pdf.length + set.files.reduce((sum, { bytes }) => sum + bytes.length, 0) : Number.NaN
        },
      },
    ],
  }
}
