import { z } from 'zod'
import { idSchema, pointSchema, positiveSchema } from '../shape/fields.ts'

/** What the shop has: benders, stock, and how pipes are joined; and what flows through them. Part of the bay file. */

const notNegative = z.number().nonnegative().max(1e7)
const nameSchema = z.string().min(1).max(200)
const degrees = z.number().min(-36_000).max(36_000)
/** A share of something, far from all of it. */
const smallShare = z.number().min(0).max(0.5)

/** Raised ring at a tube's end that keeps a hose from sliding off, mm. */
export const beadSchema = z.strictObject({
  height: positiveSchema,
  width: positiveSchema,
  /** From the tube's end to the near side of the ring. */
  fromEnd: notNegative,
})

export const benderSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  /** Which way its table counts rotations as positive, seen along the feed; default 'right-hand'. */
  rotation: z.enum(['right-hand', 'left-hand']).optional(),
  tools: z
    .array(
      z.strictObject({
        outsideDiameter: positiveSchema,
        /** Centreline radii that there are dies for, mm. */
        radii: z.array(positiveSchema).min(1).max(500),
        /** Straight that the clamp die holds, mm. */
        grip: notNegative,
        /** Between two bends, mm; the grip is asked for beside it. */
        leastStraight: notNegative,
        /** At both ends of a pipe, mm. */
        leastEnd: notNegative,
        largestAngle: positiveSchema.max(360),
        /** Share of the bent angle by which a bend springs open (0.02: bend 2 % further). */
        springBack: smallShare.optional(),
        /** The same for single materials, before `springBack`. */
        springBackOf: z
          .array(z.strictObject({ material: nameSchema, share: smallShare }))
          .min(1)
          .max(50)
          .optional(),
        /** Share of its arc by which the tube grows in a bend (0.03: 3 % less tube is cut). */
        elongation: smallShare.optional(),
      }),
    )
    .min(1)
    .max(100),
})

export const stockTubeSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  outsideDiameter: positiveSchema,
  wall: positiveSchema,
  material: nameSchema,
  /** Of the inside, for flow loss, mm; default that of drawn tube. */
  roughness: notNegative.optional(),
})

/** Cast or pressed elbow, welded in. */
export const stockElbowSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  outsideDiameter: positiveSchema,
  wall: positiveSchema,
  material: nameSchema,
  /** Angle turned, degrees; it may be cut down to less. */
  angle: positiveSchema.max(180),
  /** Of the centreline, mm. */
  radius: positiveSchema,
  /** Straight lengths beyond the arc, mm. */
  legs: z.tuple([notNegative, notNegative]),
})

const couplerFields = {
  id: idSchema,
  name: nameSchema,
  /** At both ends, mm: the outside diameters of the tubes that go in. Either end may be turned to the port. */
  insideDiameters: z.tuple([positiveSchema, positiveSchema]),
  wall: positiveSchema,
  /** How far a tube must be pushed in at least, mm. */
  insertion: positiveSchema,
  /** What it takes between the two tubes: angle (degrees), sideways offset and open gap (mm). */
  largestAngle: notNegative.max(90),
  largestOffset: notNegative,
  largestGap: notNegative,
  tolerance: notNegative.optional(),
}

/** Hose between two tubes. A `straight` one reduces where its diameters differ. */
export const couplerSchema = z.discriminatedUnion('form', [
  z.strictObject({ form: z.literal('straight'), ...couplerFields, length: positiveSchema }),
  z.strictObject({
    form: z.literal('hump'),
    ...couplerFields,
    length: positiveSchema,
    /** Outside diameter and length of the hump, in the middle. */
    hump: z.strictObject({ diameter: positiveSchema, length: positiveSchema }),
  }),
  z.strictObject({
    form: z.literal('elbow'),
    ...couplerFields,
    /** Angle turned, degrees. */
    angle: positiveSchema.max(180),
    /** Of the centreline, mm. */
    radius: positiveSchema,
    /** Straight lengths from the arc to either end, mm; the first belongs to the first diameter. */
    legs: z.tuple([positiveSchema, positiveSchema]),
  }),
])

/** Clamp with a screw, round a hose. */
export const clampSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  /** Smallest and largest diameter that it closes on, mm. */
  least: positiveSchema,
  most: positiveSchema,
  /** Width of the band, mm. */
  band: positiveSchema,
  /** How far screw and housing stand off the hose, mm. */
  height: positiveSchema,
  /** The straight room that the screwdriver or key needs along the screw, mm. */
  tool: z.strictObject({ diameter: positiveSchema, length: positiveSchema }).optional(),
})

export const stockSchema = z.strictObject({
  tubes: z.array(stockTubeSchema).max(200).optional(),
  elbows: z.array(stockElbowSchema).max(200).optional(),
  couplers: z.array(couplerSchema).max(200).optional(),
  clamps: z.array(clampSchema).max(200).optional(),
})

const clampPlaceSchema = z.strictObject({
  clamp: idSchema,
  /** Where round the hose the screw stands, degrees; see `rollZero` in joints.ts. Left out: anywhere. */
  roll: degrees.optional(),
})

/** How the end of a pipe is joined to its port. */
export const jointSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('weld') }),
  z.strictObject({
    kind: z.literal('coupler'),
    coupler: idSchema,
    /** Between the ends of the two tubes, mm, in straight couplers and humps; default 0. */
    gap: notNegative.optional(),
    /** Which way an elbow turns, degrees about the port's direction; see `rollZero` in joints.ts; default 0. */
    roll: degrees.optional(),
    /** Where the pipe's end is, bay frame, mm, where it does not lie where the coupler would have it. */
    end: pointSchema.optional(),
    clamps: z.strictObject({ port: clampPlaceSchema.optional(), pipe: clampPlaceSchema.optional() }).optional(),
    /** On the pipe's end. */
    bead: beadSchema.optional(),
  }),
])

const gasStateSchema = z.strictObject({
  /** K */
  temperature: positiveSchema.max(2000),
  /** Absolute, Pa */
  pressure: positiveSchema,
})
const liquidStateSchema = z.strictObject({
  /** kg/m³ */
  density: positiveSchema,
  /** Dynamic, Pa·s */
  viscosity: positiveSchema,
})

/** What flows, for losses. `massFlow` kg/s. */
export const conditionsSchema = z.strictObject({
  flow: z
    .discriminatedUnion('fluid', [
      z.strictObject({
        fluid: z.literal('air'),
        massFlow: positiveSchema,
        toCooler: gasStateSchema,
        fromCooler: gasStateSchema,
      }),
      z.strictObject({
        fluid: z.literal('liquid'),
        massFlow: positiveSchema,
        toCooler: liquidStateSchema,
        fromCooler: liquidStateSchema,
      }),
    ])
    .optional(),
})

export type Bead = z.infer<typeof beadSchema>
export type Bender = z.infer<typeof benderSchema>
export type BenderTool = Bender['tools'][number]
export type StockTube = z.infer<typeof stockTubeSchema>
export type StockElbow = z.infer<typeof stockElbowSchema>
export type Coupler = z.infer<typeof couplerSchema>
export type Clamp = z.infer<typeof clampSchema>
export type Joint = z.infer<typeof jointSchema>
export type CouplerJoint = Extract<Joint, { kind: 'coupler' }>
export type Conditions = z.infer<typeof conditionsSchema>
