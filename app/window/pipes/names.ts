import type { Bay } from '../../../core/bay/schema.ts'

/** A port as people call it: the car's by its name, a tank's as `tank left, hot`. */
export function portName(bay: Bay, name: string): string {
  const own = bay.ports?.find(({ id }) => id === name)
  if (own) return own.name
  const [tank, port] = name.split(':')
  return port === undefined ? name : `${tank.replaceAll('-', ' ')}, ${port}`
}

/** A corner of the pipe's path by the number of its point; the ends have none. */
export const cornerOfPoint = (point: number | undefined, corners: number): number | null =>
  point !== undefined && point >= 1 && point <= corners ? point - 1 : null
