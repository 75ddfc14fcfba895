import type { Role } from '../../../core/bay/schema.ts'

/** How the keep-outs of a role are drawn; the ledger never knows of it. */
export type RoleLook = 'drawn' | 'ghosted' | 'hidden'
export type TextSize = 'normal' | 'large' | 'projector'
/** Which plane through a gap: the upright one along it, or the one square to an axis of the bay. */
export type CutWay = 'along' | 'x' | 'y' | 'z'

/** A cutting plane that hangs on a gap: it goes along when the gap moves. */
export interface Cut {
  /** The row's key, as `pairKey` writes it. */
  readonly pair: string
  readonly way: CutWay
  /** mm along the plane's normal, away from the gap. */
  readonly offset: number
  /** The other side is taken away. */
  readonly flipped: boolean
}

/** All that is chosen about looking. Nothing of it is in the bay, in its undo, or in any verdict. */
export interface Seeing {
  readonly roles: Readonly<Partial<Record<Role, RoleLook>>>
  /** Only keep-outs this near to the candidate are drawn, mm; null: all. */
  readonly within: number | null
  /** What `within` was last, for switching it on again, mm. */
  readonly withinLast: number
  /** The five tightest gaps are dimensioned where they are. */
  readonly tightest: boolean
  /** Front, side and plan carry dimensions. */
  readonly dimensions: boolean
  readonly cut: Cut | null
  readonly text: TextSize
}

export const startSeeing: Seeing = {
  roles: {},
  within: null,
  withinLast: 60,
  tightest: false,
  dimensions: true,
  cut: null,
  text: 'normal',
}

export const textSizes: readonly TextSize[] = ['normal', 'large', 'projector']
/** By how much letters, and all that holds them, are larger. */
export const textScale: Readonly<Record<TextSize, number>> = { normal: 1, large: 1.25, projector: 1.5 }

/** Another bay is looked at: the size of letters and dimensions stay as they were chosen. */
export const seeingAnew = ({ text, dimensions }: Seeing): Seeing => ({ ...startSeeing, text, dimensions })

export const withRole = (seeing: Seeing, role: Role, look: RoleLook): Seeing => ({
  ...seeing,
  roles: { ...seeing.roles, [role]: look },
})

/** @param mm null: all are drawn again, and the distance is remembered */
export const withWithin = (seeing: Seeing, mm: number | null): Seeing => ({
  ...seeing,
  within: mm,
  withinLast: mm ?? seeing.withinLast,
})

/** Whether the drawing leaves something out or stands back, which has to be said beside it. */
export const isSelective = ({ roles, within }: Seeing): boolean =>
  within !== null || Object.values(roles).some((look) => look !== 'drawn')
