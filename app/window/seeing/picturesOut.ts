import { faultText } from '../../wording.ts'
import { textScale } from './seeing.ts'
import type { Here } from '../state/context.ts'
import { faultsOf } from '../state/deskLink.ts'
import { bayOf, candidateIn, type ViewName } from '../state/windowState.ts'
import { words } from '../words.ts'
import { drawingSvg } from './drawingSvg.ts'
import { captionOf, drawnSheet } from './drawnSheet.ts'
import { today } from '../../wording/today.ts'

const text = words.seeing.picture
export type PictureScale = 1 | 2 | 4

/** @returns what to tell: the name it was saved under, or why not; null when the user cancelled */
export async function saveDrawing(here: Here, view: Exclude<ViewName, 'space'>): Promise<string | null> {
  const { room } = here
  const state = room.store.getState()
  const bay = bayOf(state)
  if (!bay) return null
  const lines = await room.lines({ bay, candidate: candidateIn(state)?.id ?? null, view })
  if (!lines.ok) return `${text.failed}: ${faultText(lines.faults[0])}`
  const svg = drawingSvg(drawnSheet(state, room.scene.getState(), view, lines.value, today()))
  return saved(here, new TextEncoder().encode(svg), `${fileName(here)}-${view}.svg`)
}

/** The drawing as it is seen now, with its dimensions and a caption below it. */
export async function savePicture(here: Here, times: PictureScale): Promise<string | null> {
  const { room, eye } = here
  const { view } = room.store.getState()
  const drawn = (await eye.pictureOf?.(view, times)) ?? null
  const overlay = document.querySelector<SVGSVGElement>('.viewport > svg.overlay')
  if (!drawn || !overlay) return text.tooLarge
  const canvas = await composed(here, drawn, overlay, times)
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/png'))
  if (!blob) return text.tooLarge
  return saved(here, new Uint8Array(await blob.arrayBuffer()), `${fileName(here)}-${view}.png`)
}

const captionHeight = 66

async function composed({ room, eye }: Here, drawn: ImageBitmap, overlay: SVGSVGElement, times: number) {
  const state = room.store.getState()
  const { width, height } = eye.store.getState().frame
  const grown = textScale[state.seeing.text]
  const canvas = document.createElement('canvas')
  canvas.width = width * times
  canvas.height = (height + captionHeight * grown) * times
  const pen = canvas.getContext('2d')
  if (!pen) throw new Error(text.tooLarge)
  const style = getComputedStyle(document.documentElement)
  pen.scale(times, times)
  pen.fillStyle = style.getPropertyValue('--paper-drawing')
  pen.fillRect(0, 0, width, height + captionHeight * grown)
  pen.drawImage(drawn, 0, 0, width, height)
  pen.drawImage(await imageOf(overlay, width, height, times), 0, 0, width, height)
  pen.fillStyle = style.getPropertyValue('--ink')
  pen.fillRect(0, height, width, 1)
  const letters = style.getPropertyValue('--letters')
  const write = (line: string, font: string, y: number) => {
    pen.font = font
    pen.fillText(line, 16, height + y * grown, width - 32)
  }
  const title = text.caption(bayOf(state)?.name ?? '', candidateIn(state)?.name ?? '')
  write(title, `700 ${13 * grown}px ${letters}`, 20)
  for (const [i, line] of captionOf(state, state.view, today()).entries())
    write(line, `${11 * grown}px ${letters}`, 38 + 17 * i)
  return canvas
}

/** Lines and letters over the drawing, with the looks that the style sheets give them written into each. */
async function imageOf(
  overlay: SVGSVGElement,
  width: number,
  height: number,
  times: number,
): Promise<ImageBitmap | HTMLImageElement> {
  const copy = overlay.cloneNode(true) as SVGSVGElement
  const [own, copied] = [overlay.querySelectorAll('*'), copy.querySelectorAll('*')]
  for (const [i, element] of own.entries()) {
    const looks = getComputedStyle(element)
    const wanted = [
      'fill',
      'stroke',
      'stroke-width',
      'stroke-linejoin',
      'font',
      'opacity',
      'paint-order',
      'text-anchor',
    ]
    for (const name of wanted) (copied[i] as SVGElement).style.setProperty(name, looks.getPropertyValue(name))
  }
  for (const [name, value] of Object.entries({
    xmlns: 'http://www.w3.org/2000/svg',
    width: String(width * times),
    height: String(height * times),
    viewBox: `0 0 ${width} ${height}`,
  }))
    copy.setAttribute(name, value)
  const image = new Image()
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(new XMLSerializer().serializeToString(copy))}`
  await image.decode()
  return image
}

const fileName = ({ room }: Here): string =>
  (bayOf(room.store.getState())?.name ?? 'bay')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '') || 'bay'

async function saved({ room }: Here, bytes: Uint8Array, name: string): Promise<string | null> {
  try {
    const given = await room.host.saveFile(bytes, name)
    return given === null ? null : text.saved(given)
  } catch (error) {
    const [fault] = faultsOf(error, { code: 'file-unwritable', file: name })
    return `${text.failed}: ${faultText(fault)}`
  }
}
