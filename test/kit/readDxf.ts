import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

const python = '/usr/bin/python3'
/** An independent reader: ezdxf, by the system's package python3-ezdxf. */
export const ezdxfThere = spawnSync(python, ['-c', 'import ezdxf']).status === 0

const reading = `
import sys, json, math, ezdxf
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
out = {'errors': [str(e.message) for e in audit.errors] + [str(e.message) for e in audit.fixes],
       'units': doc.header['$INSUNITS'], 'version': doc.dxfversion, 'items': []}
for e in doc.modelspace():
    d = {'type': e.dxftype(), 'layer': e.dxf.layer}
    if e.dxftype() == 'LINE': d['points'] = [[e.dxf.start.x, e.dxf.start.y], [e.dxf.end.x, e.dxf.end.y]]
    if e.dxftype() == 'LWPOLYLINE': d.update(points=[list(p) for p in e.get_points('xy')], closed=bool(e.closed))
    if e.dxftype() == 'CIRCLE': d.update(centre=[e.dxf.center.x, e.dxf.center.y], radius=e.dxf.radius)
    if e.dxftype() == 'ELLIPSE': d.update(centre=[e.dxf.center.x, e.dxf.center.y], major=[e.dxf.major_axis.x, e.dxf.major_axis.y], share=e.dxf.ratio)
    if e.dxftype() == 'TEXT': d.update(text=e.plain_text(), height=e.dxf.height, turn=e.dxf.rotation)
    out['items'].append(d)
print(json.dumps(out))
`

/** What stands in a DXF file, by its type in the file; fields by type. mm, degrees. */
export interface ReadEntity {
  readonly type: string
  readonly layer: string
  readonly points?: [number, number][]
  readonly closed?: boolean
  readonly centre?: [number, number]
  readonly radius?: number
  readonly major?: [number, number]
  readonly share?: number
  readonly text?: string
  readonly height?: number
  readonly turn?: number
}

interface ReadDxf {
  /** What the reader's audit finds wrong, or had to mend. */
  readonly errors: string[]
  readonly units: number
  readonly version: string
  readonly items: ReadEntity[]
}

export function readDxf(dxf: string): ReadDxf {
  const folder = mkdtempSync(join(tmpdir(), 'gapwright-dxf-'))
  try {
    const file = join(folder, 'figure.dxf')
    writeFileSync(file, dxf)
    const { stdout, stderr } = spawnSync(python, ['-c', reading, file], { encoding: 'utf8', env: { HOME: folder } })
    if (stdout === '') throw new Error(stderr)
    return JSON.parse(stdout)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
