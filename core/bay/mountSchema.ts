import { z } from 'zod'
import { idSchema, lengthSchema, pointSchema, positiveSchema, vectorSchema } from '../shape/fields.ts'

/** Where the part is fixed: points on the car, and the brackets and pins of a candidate that go onto them. Part of the bay file. */

const notNegative = z.number().nonnegative().max(1e7)
const nameSchema = z.string().min(1).max(200)
const degrees = z.number().min(-36_000).max(36_000)
const share = z.number().min(-1).max(1)

/** Whether something goes in with the part, or is put on when the part sits. */
export const fittingSchema = z.enum(['with-part', 'after'])

/** A point of the car that something is fixed to. */
export const fixingSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  kind: z.enum(['hole', 'stud', 'thread', 'slot']),
  /** Middle of the hole, stud, thread or slot, on the face that a mount is drawn against; bay frame, mm. */
  at: pointSchema,
  /** From the car towards the mount and the tool: the way a stud points. Need not be unit, not zero. */
  axis: vectorSchema,
  /** Of the stud or thread; of the hole; width of the slot, mm. */
  diameter: positiveSchema,
  /** Of a slot, over its round ends, mm. */
  length: positiveSchema.optional(),
  /** Of a slot: the way it runs; only the part square to `axis` counts. */
  along: vectorSchema.optional(),
  /** Expanded measuring uncertainty (k = 2) of where it is, mm; default 3. */
  uncertainty: notNegative.optional(),
  /** Keep-out that it is part of: mounts on it are not held against that. */
  sitsOn: idSchema.optional(),
  /** Straight room for spanner or driver along the axis, from the mount outward, mm. */
  tool: z.strictObject({ diameter: positiveSchema, length: positiveSchema }).optional(),
})

/** A point on a part's face, from −1 to 1 across it. It follows the part when the core changes size. */
const placeSchema = z.discriminatedUnion('part', [
  z.strictObject({
    part: z.literal('core'),
    /** On front, rear, below and above u runs along Y; on left and right along X. v runs along Z, on below and above along X. */
    face: z.enum(['front', 'rear', 'below', 'above', 'left', 'right']),
    u: share,
    v: share,
  }),
  z.strictObject({
    part: z.enum(['tank-left', 'tank-right']),
    /** u and v as of a tank's ports. */
    face: z.enum(['end', 'front', 'rear', 'below', 'above']),
    u: share,
    v: share,
  }),
])

export const mountHoleSchema = z.strictObject({
  /** Along the plate's two sides, from its middle, mm; default its middle. */
  at: z.tuple([lengthSchema, lengthSchema]).optional(),
  /** Width of a slot, mm. */
  diameter: positiveSchema,
  /** Makes it a slot: over its round ends, mm. */
  length: positiveSchema.optional(),
  /** Of a slot: the way it runs, degrees from the plate's first side towards its second; default 0. */
  angle: degrees.optional(),
  fixing: idSchema,
  /** Diameter of the bolt, mm, where the fixing is a hole or slot. */
  bolt: positiveSchema.optional(),
})

/** The first side of a plate or block runs along u of its face, turned by this towards v, degrees; default 0. */
const turn = degrees.optional()
const holes = z.array(mountHoleSchema).max(50).optional()

export const mountShapeSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('plate'),
    /** Its two sides, mm. */
    size: z.tuple([positiveSchema, positiveSchema]),
    thickness: positiveSchema,
    /** 'flat' on the face; 'out' from it: the second side then runs outward, and holes go through along the face. Default 'flat'. */
    stands: z.enum(['flat', 'out']).optional(),
    /** How far off the face its near side is, mm; what is between is taken to be solid. Default 0. */
    standOff: notNegative.optional(),
    turn,
    holes,
  }),
  z.strictObject({
    kind: z.literal('block'),
    /** Its two sides along the face, then outward, mm; holes go through outward. */
    size: z.tuple([positiveSchema, positiveSchema, positiveSchema]),
    turn,
    holes,
  }),
  z.strictObject({
    kind: z.literal('pin'),
    /** Outward from the face, round. */
    diameter: positiveSchema,
    length: positiveSchema,
    /** The hole or slot that it goes into. */
    fixing: idSchema.optional(),
  }),
])

/** A bracket or pin that is fixed to core or tank. */
export const mountSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  on: placeSchema,
  shape: mountShapeSchema,
  /** How far it may be off its place on the part, mm; default 0. */
  tolerance: notNegative.optional(),
  /** Default 'with-part'. */
  fitting: fittingSchema.optional(),
})

export type Fixing = z.infer<typeof fixingSchema>
export type Mount = z.infer<typeof mountSchema>
export type MountPlace = Mount['on']
export type MountShape = Mount['shape']
export type MountHole = z.infer<typeof mountHoleSchema>
