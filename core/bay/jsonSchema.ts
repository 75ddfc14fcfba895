import { z } from 'zod'
import { idSchema, pointSchema, vectorSchema } from '../shape/fields.ts'
import { fixingSchema, mountHoleSchema, mountSchema } from './mountSchema.ts'
import {
  baySchema,
  candidateSchema,
  keepOutSchema,
  limitsSchema,
  openingSchema,
  pipeSchema,
  portSchema,
  tankPortSchema,
  tankSchema,
} from './schema.ts'
import {
  beadSchema,
  benderSchema,
  clampSchema,
  couplerSchema,
  jointSchema,
  stockElbowSchema,
  stockTubeSchema,
} from './workshopSchema.ts'

/** Names of the schema's reusable parts in the JSON Schema. */
const named = z
  .registry<{ id: string }>()
  .add(idSchema, { id: 'id' })
  .add(pointSchema, { id: 'point' })
  .add(vectorSchema, { id: 'vector' })
  .add(keepOutSchema, { id: 'keepOut' })
  .add(openingSchema, { id: 'opening' })
  .add(portSchema, { id: 'port' })
  .add(candidateSchema, { id: 'candidate' })
  .add(tankSchema, { id: 'tank' })
  .add(tankPortSchema, { id: 'tankPort' })
  .add(pipeSchema, { id: 'pipe' })
  .add(fixingSchema, { id: 'fixing' })
  .add(mountSchema, { id: 'mount' })
  .add(mountHoleSchema, { id: 'mountHole' })
  .add(limitsSchema, { id: 'limits' })
  .add(benderSchema, { id: 'bender' })
  .add(beadSchema, { id: 'bead' })
  .add(jointSchema, { id: 'joint' })
  .add(stockTubeSchema, { id: 'stockTube' })
  .add(stockElbowSchema, { id: 'stockElbow' })
  .add(couplerSchema, { id: 'coupler' })
  .add(clampSchema, { id: 'clamp' })

/**
 * The bay's schema as JSON Schema (draft 2020-12), for editors that complete and check while typing.
 * It holds what single fields must be; what fields must be to each other is `readBay`'s to say.
 * `assets/bay.schema.json` is this text, written by `bin/schema.mjs`; a test keeps the two in step.
 */
export function bayJsonSchemaText(): string {
  const schema = z.toJSONSchema(baySchema, { io: 'input', metadata: named })
  const described = {
    ...schema,
    title: 'Gapwright bay, version 1',
    description: 'Lengths in mm, angles in degrees; X rearward, Y to the right, Z up.',
  }
  return `${JSON.stringify(described, null, 2)}\n`
}
