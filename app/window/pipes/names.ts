import type { Bay } from '../../../core/bay/schema.ts'
import { words } from '../words.ts'

/** A port as people call it: the car's by its name, a tank's as `tank left, hot`. */
export function portName(bay: Bay, name: string): string {
  const own = bay.ports?.find(({ id }) => id === name)
  if (own) return own.name
  const [tank, port] = name.split(':')
  return port === undefined ? name : `${tank.replaceAll('-', ' ')}, ${port}`
}

/** Something of stock in a list: its name, and its size where the name does not tell it already. */
export function stockName(name: string, size: string): string {
  const figures = size.match(/[\d./]+/g) ?? []
  return figures.every((figure) => name.includes(figure)) ? name : words.pipes.stockItem(name, size)
}
