import type { PipeReason } from '../../core/pipe/answer.ts'
import { degrees, degreesUp, lack, type Sentence } from './reasonFigures.ts'

/** `the port`, `the pipe`: which of the two tubes in a joint. */
const tube = ({ on }: PipeReason): string => (on === 'port' ? 'the port' : 'the pipe')

/** Why a joint does not hold, and what is not known of it; read by `reasonText`. */
export const jointSentences: Record<string, Sentence> = {
  // Without a coupler
  'leaves-askew': ({ got }) =>
    `the pipe leaves its port ${degreesUp(got)} askew, and there is no coupler to take that up; move the next corner in line with the port`,
  'diameters-differ': ({ got, expected }, { size }) =>
    `a pipe of ${size(got)} meets a port of ${size(expected)}; a coupler that reduces is needed`,
  'weld-moves': ({ got }, { size }) => `welded to a port that moves by ${size(got)}; a coupler is needed`,
  'no-joint': ({ got }, { size }) =>
    got === undefined
      ? 'no joint is named: the pipe is drawn as meeting its port'
      : `no joint is named, and the port moves by ${size(got)}: the pipe is drawn as meeting its port`,
  // Coupler and tubes
  'coupler-diameter': (reason, { size }) =>
    `${reason.of} is ${size(reason.expected)} inside, and ${tube(reason)} is ${size(reason.got)} across; take a coupler of that size`,
  'insertion-short': (reason, { little, size, much }) =>
    Number(reason.got) <= 0
      ? `${tube(reason)} does not reach into ${reason.of}, which must hold ${size(reason.expected)} of it`
      : `${tube(reason)} goes ${little(reason.got)} into ${reason.of}, which must hold ${size(reason.expected)}; ${much(lack(reason))} more are needed`,
  'insertion-no-room': (reason, { little, much }) =>
    `bead, clamp and the edges beside them need ${much(reason.expected)} of ${tube(reason)} in ${reason.of}, and ${little(reason.got)} of it are; take a longer coupler or a narrower band`,
  'insertion-into-bend': (reason, { much, little }) =>
    `${tube(reason)} goes up to ${much(reason.got)} into ${reason.of}, whose bend begins after ${little(reason.expected)}`,
  'insertion-beyond-spigot': (reason, { much, size }) =>
    `${reason.of} goes ${much(reason.got)} over the port, which is ${size(reason.expected)} long; take a shorter coupler or a longer port`,
  'end-straight-short': (reason, { little, much }) =>
    `${reason.of} goes ${much(reason.expected)} over the pipe, whose straight is ${Number(reason.got) > 0 ? `only ${little(reason.got)}` : 'nothing'} there; ${much(lack(reason))} more are needed`,
  'gap-large': (reason, { much, size }) =>
    `${reason.of} takes ${size(reason.expected)} between the two tubes, and with movement it is up to ${much(reason.got)}`,
  'tubes-touch': (reason, { size, much, little }) =>
    Number(reason.got) < 0
      ? `the two tubes overlap by ${much(-Number(reason.got))}`
      : `the port moves by ${size(reason.expected)}, and only ${little(reason.got)} lie between the two tubes: they would touch`,
  'offset-large': (reason, { much, size }) =>
    `${reason.of} takes tubes ${size(reason.expected)} beside each other, and with movement it is up to ${much(reason.got)}`,
  'angle-large': ({ of, got, expected }) =>
    `${of} takes ${degrees(expected)} between the two tubes, and with movement it is up to ${degreesUp(got)}; bring the next corner in line`,
  'movement-passed-on': (reason, { little, size }) =>
    `the other port moves by ${size(reason.expected)}; should its coupler be the stiffer one, ${reason.of} can take only ${little(reason.got)} of that`,
  'no-bead': (reason) => `no bead is named on ${tube(reason)}: see that the hose cannot slide off`,
  'no-spigot': (reason, { much }) =>
    `how long the port is, is not told: the coupler needs ${much(reason.got)} of straight`,
  // Clamps
  'clamp-too-small': (reason, { size }) =>
    `${reason.of} opens to ${size(reason.expected)}, and the hose over ${tube(reason)} is ${size(reason.got)}; take a larger clamp`,
  'clamp-too-large': (reason, { size }) =>
    `${reason.of} closes to ${size(reason.expected)}, and the hose over ${tube(reason)} is ${size(reason.got)}; take a smaller clamp`,
  'clamp-band-wide': (reason, { little, size }) =>
    Number(reason.expected) > 0
      ? `the band of ${reason.of} is ${size(reason.got)} wide, and the hose has ${little(reason.expected)} of straight for it; take a narrower band`
      : `the hose has no straight for the band of ${reason.of}`,
  'no-screwdriver-room': (reason) =>
    `no tool reaches the screw of ${reason.of} on ${tube(reason)}${reason.expected === undefined ? '' : ` at ${degrees(reason.expected)}`}${reason.got === undefined || reason.got === '' ? '' : `; in the way: ${reason.got}`}`,
  'no-clamp': (reason) => `no clamp is named on ${tube(reason)}`,
  'clamp-no-tool': (reason) =>
    `what room a tool needs at ${reason.of} is not told, so whether one reaches it is not known`,
  'tool-elsewhere': (reason) =>
    `a tool would reach the screw of ${reason.of} on ${tube(reason)} with the screw at rolls of ${reason.got}`,
  'tool-needs-off': (reason) =>
    `a tool reaches the screw of ${reason.of} on ${tube(reason)} only with what comes off taken off: ${reason.got}`,
  'tool-not-against': (reason) => `${reason.of} stands within ${reason.got}, so a tool at it was not held against that`,
  'tool-left-out': ({ got }) => `tools at the clamps were not held against what is left out: ${got}`,
  'tool-without': ({ got }) => `tools at the clamps were not held against pipes that have no shape: ${got}`,
}
