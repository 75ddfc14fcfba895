import { z } from 'zod'
import { shapeSchema } from '../shape/registry.ts'
import { idSchema, lengthSchema, positiveSchema, vectorSchema, pointSchema } from '../shape/fields.ts'
import { fittingSchema, fixingSchema, mountSchema } from './mountSchema.ts'
import { offeringSchema } from './offeringSchema.ts'
import { beadSchema, benderSchema, conditionsSchema, jointSchema, stockSchema } from './workshopSchema.ts'

/** Why a keep-out must stay clear; sets its default clearance and cautions (see defaults.ts). */
export const roles = ['safety', 'lamp', 'cooling', 'moving', 'hot', 'body', 'service'] as const
export type Role = (typeof roles)[number]

const notNegative = z.number().nonnegative().max(1e7)
const nameSchema = z.string().min(1).max(200)
const noteSchema = z.string().max(10_000)
/** Of a drawing: short enough for its title block. */
const revisionSchema = z.string().max(20)
const degrees = z.number().min(-36_000).max(36_000)
const turnSchema = z.tuple([degrees, degrees, degrees])

export const keepOutSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  role: z.enum(roles),
  /** Required clearance, mm; default by role. */
  clearance: notNegative.optional(),
  /** Expanded measuring uncertainty (k = 2) of the surface, mm; default 3. */
  uncertainty: notNegative.optional(),
  /** Also adds the same keep-out mirrored in Y, id with '-mirror'. */
  mirror: z.boolean().optional(),
  /** Whether it is in place while the part is offered up; default 'stays'. */
  fitting: z.enum(['stays', 'comes-off']).optional(),
  /** false leaves it out for a look; every answer then says so. */
  enabled: z.boolean().optional(),
  note: noteSchema.optional(),
  /** Where a photo of it is: the name of a file beside the bay, or words. */
  photo: z.string().min(1).max(500).optional(),
  shape: shapeSchema,
})

export const openingSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  /** Polygon in (y, z), mm, at `x`. */
  outline: z
    .array(z.tuple([lengthSchema, lengthSchema]))
    .min(3)
    .max(2000),
  x: lengthSchema,
})

export const portSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  at: pointSchema,
  /** The way the pipe leaves it; need not be unit, not zero. */
  direction: vectorSchema,
  outsideDiameter: positiveSchema,
  /** Keep-out that the port sits on: its pipe is exempt from it over the first 1.5 outside diameters. */
  sitsOn: idSchema.optional(),
  /** How far it moves with the engine, in any direction, mm; default 0. */
  movement: notNegative.optional(),
  /** Straight length behind `at` that a coupler can be pushed over, mm. */
  spigot: positiveSchema.optional(),
  bead: beadSchema.optional(),
})

export const tankPortSchema = z.strictObject({
  id: idSchema,
  face: z.enum(['end', 'front', 'rear', 'below', 'above']),
  u: z.number().min(-1).max(1),
  v: z.number().min(-1).max(1),
  outsideDiameter: positiveSchema,
  /** Length of the straight stub, mm. */
  length: positiveSchema,
  /** In the candidate's frame before `turn`; default the face's outward axis. */
  direction: vectorSchema.optional(),
  bead: beadSchema.optional(),
})

export const tankSchema = z.strictObject({
  /** Outward length from the core's side, mm. */
  length: positiveSchema,
  front: lengthSchema,
  rear: lengthSchema,
  below: lengthSchema,
  above: lengthSchema,
  taper: z.strictObject({ depth: positiveSchema.max(1), height: positiveSchema.max(1) }).optional(),
  tolerance: notNegative.optional(),
  ports: z.array(tankPortSchema).max(20).optional(),
})

export const pipeSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  /** Port of the bay, or 'tank-left:PORT' / 'tank-right:PORT'. */
  from: nameSchema,
  to: nameSchema,
  outsideDiameter: positiveSchema,
  wall: positiveSchema,
  bendRadius: positiveSchema,
  /** Corner points between the ports, bay frame, mm. */
  path: z.array(pointSchema).max(500),
  tolerance: notNegative.optional(),
  /** Clearance to other parts, mm; default 5. */
  clearance: notNegative.optional(),
  bender: idSchema.optional(),
  /** Stock tube that it is bent from. */
  tube: idSchema.optional(),
  /** How it is joined at each end; an end without is drawn as meeting its port and said to have no joint. */
  joints: z.strictObject({ from: jointSchema.optional(), to: jointSchema.optional() }).optional(),
  /** Corners made by a stock elbow that is welded in, by their number in `path`; all others are bent. */
  elbows: z
    .array(z.strictObject({ corner: z.int().min(0).max(499), elbow: idSchema }))
    .max(500)
    .optional(),
  /** Which of the conditions it carries. */
  flow: z.enum(['to-cooler', 'from-cooler']).optional(),
  /** Whether it is offered up together with the core, or put on after; default 'after'. */
  fitting: fittingSchema.optional(),
})

const range = {
  min: positiveSchema.optional(),
  max: positiveSchema.optional(),
  stock: z.array(positiveSchema).min(1).max(500).optional(),
}
export const limitsSchema = z.strictObject({
  depth: z.strictObject(range).optional(),
  width: z.strictObject(range).optional(),
  height: z.strictObject({ ...range, pitch: positiveSchema.optional(), offset: notNegative.optional() }).optional(),
  tilt: z.strictObject({ min: degrees, max: degrees }).optional(),
  /** Region that the core's centre must stay in. */
  centre: z.strictObject({ min: pointSchema, max: pointSchema }).optional(),
  /** Core symmetric about Y = 0. */
  symmetric: z.boolean().optional(),
})

export const candidateSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  /** As its sheets carry it. */
  revision: revisionSchema.optional(),
  /** Centre of the core box, bay frame. */
  at: pointSchema,
  /** Degrees about fixed X, then Y, then Z through `at`. */
  turn: turnSchema,
  core: z.strictObject({
    depth: positiveSchema,
    width: positiveSchema,
    height: positiveSchema,
    tolerance: notNegative.optional(),
  }),
  tanks: z.strictObject({ left: tankSchema.optional(), right: tankSchema.optional() }).optional(),
  pipes: z.array(pipeSchema).max(50).optional(),
  mounts: z.array(mountSchema).max(50).optional(),
  /** The way in that was chosen; whether it holds is judged anew whenever something changes. */
  offering: offeringSchema.optional(),
  limits: limitsSchema.optional(),
  note: noteSchema.optional(),
})

export const baySchema = z.strictObject({
  format: z.literal('gapwright-bay'),
  version: z.literal(1),
  name: nameSchema,
  frame: z.strictObject({ origin: nameSchema, note: noteSchema.optional() }),
  /** How people see lengths; every length in the file is mm. */
  units: z.enum(['mm', 'inch']),
  keepOuts: z.array(keepOutSchema).max(1000),
  openings: z.array(openingSchema).max(200).optional(),
  ports: z.array(portSchema).max(200).optional(),
  fixings: z.array(fixingSchema).max(200).optional(),
  candidates: z.array(candidateSchema).max(200),
  benders: z.array(benderSchema).max(50).optional(),
  stock: stockSchema.optional(),
  conditions: conditionsSchema.optional(),
})

export type Bay = z.infer<typeof baySchema>
export type KeepOut = z.infer<typeof keepOutSchema>
export type Opening = z.infer<typeof openingSchema>
export type Port = z.infer<typeof portSchema>
export type Tank = z.infer<typeof tankSchema>
export type TankPort = z.infer<typeof tankPortSchema>
export type Pipe = z.infer<typeof pipeSchema>
export type Limits = z.infer<typeof limitsSchema>
export type Candidate = z.infer<typeof candidateSchema>
