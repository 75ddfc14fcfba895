import { ways } from './plainWords.ts'

const ends = { min: 'least', max: 'greatest' } as const

/** A limit of a candidate in words: `width.max` is the greatest width, `centre.max[0]` the rear end of the centre's region. */
export function limitText(limit: string): string {
  const size = /^(depth|width|height)\.(min|max)$/.exec(limit)
  if (size) return `${ends[size[2] as 'min' | 'max']} ${size[1]}`
  const list = /^(depth|width|height)\.(stock|pitch)$/.exec(limit)
  if (list) return list[2] === 'stock' ? `stock ${list[1]}s` : `rows of the ${list[1]}`
  const region = /^centre\.(min|max)\[([012])\]$/.exec(limit)
  if (region) return `region for the centre, its end ${ways[Number(region[2])][region[1] === 'min' ? 0 : 1]}`
  return whole[limit] ?? limit
}

const whole: Record<string, string> = {
  centre: 'region for the centre',
  symmetric: 'symmetry about the middle',
  'within-box': '--within-box',
}
