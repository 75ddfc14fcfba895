import type { CutWay, RoleLook, TextSize } from './seeing/seeing.ts'

/** Words about looking: what is drawn, cuts, text sizes, pictures; part of `words`. */
const looks: Record<RoleLook, string> = { drawn: 'drawn', ghosted: 'ghosted', hidden: 'hidden' }
const ways: Record<CutWay, string> = {
  along: 'Along the gap, upright',
  x: 'Square to X',
  y: 'Square to Y',
  z: 'Square to Z (level)',
}
const texts: Record<TextSize, string> = { normal: 'normal', large: 'large', projector: 'projector' }

export const seeingWords = {
  open: 'What is drawn',
  openShort: 'Drawn',
  roles: {
    title: 'Keep-outs by role',
    note: 'For the drawing only. Gaps and verdicts go on counting every keep-out.',
    looks,
    group: (role: string) => `Keep-outs of the role ${role}`,
    all: 'All drawn',
  },
  within: {
    title: 'How near',
    on: 'Only what is near the candidate',
    field: 'Within',
    toggle: 'Only what is near the candidate, or all',
  },
  gaps: {
    title: 'Dimensions',
    tightest: 'The five tightest gaps',
    tightestLong: 'Dimension the five tightest gaps, or not',
    drawings: 'In front, side and plan: nearest keep-outs, overall sizes',
    drawingsLong: 'Dimensions in front, side and plan, or none',
    number: (gap: string) => gap,
    overlaps: (depth: string) => `overlaps ${depth}`,
    touches: 'touches',
  },
  text: { title: 'Text size', sizes: texts, next: 'Next text size: normal, large, projector' },
  left: {
    hidden: (n: number) => `${n === 1 ? '1 keep-out is' : `${n} keep-outs are`} not drawn`,
    lighter: 'Drawn from a lighter copy; gaps are of the full meshes',
  },
  cut: {
    title: 'Cut through a gap',
    here: 'Cut here',
    off: 'Take the cut away',
    command: 'Cut the drawing through the chosen gap, or take the cut away',
    next: 'Next way to cut',
    forth: 'Move the cut forth by 1 mm',
    back: 'Move the cut back by 1 mm',
    flip: 'See the other side of the cut',
    flipShort: 'Other side',
    way: 'Way of the cut',
    ways,
    offset: 'Moved by',
    slider: 'How far the cut is moved from its gap',
    at: (text: string) => `${text} from the gap`,
    atGap: 'through the gap',
    through: (names: string) => `Through ${names}`,
    note: 'Drawn only: no figure is taken from a cut.',
  },
  picture: {
    title: 'Picture',
    png: 'Picture (PNG)',
    size: 'Size',
    sizes: ['1×', '2×', '4×'] as const,
    svg: { front: 'Front drawing (SVG)', side: 'Side drawing (SVG)', plan: 'Plan drawing (SVG)' },
    save: (drawing: string) => `Save: ${drawing}`,
    png1: 'Save the present view as a picture, at its size',
    png2: 'Save the present view as a picture, twice its size',
    png4: 'Save the present view as a picture, four times its size',
    saved: (name: string) => `Saved: ${name}`,
    failed: 'The picture was not saved',
    tooLarge: 'The graphics here cannot draw a picture of that size. Choose a smaller one.',
    caption: (bay: string, candidate: string) => (candidate === '' ? bay : `${bay}: ${candidate}`),
    facts: (date: string, units: string, view: string) => `${date} · ${view} · lengths in ${units}`,
    ledger: (text: string) => `Gaps: ${text}`,
    stale: 'gaps out of date',
    units: { mm: 'millimetres', inch: 'inches' },
    drawing: (view: string) => `${view[0].toUpperCase()}${view.slice(1)} drawing`,
    overall: 'overall',
  },
}
