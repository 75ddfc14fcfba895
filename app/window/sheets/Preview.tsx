import { type KeyboardEvent, type RefObject, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react'
import type { SheetSet } from '../../sheet/settings.ts'
import { useHere, useSheets } from '../state/context.ts'
import { words } from '../words.ts'
import { type OpenPdf, openPdf } from './openPdf.ts'
import { PaperPage } from './PaperPage.tsx'
import { type Extent, pageAt, scaleOf, topsOf } from './zoom.ts'

const { pages: text, standing } = words.sheets

/** The pages of a set below each other. Those of a newer set take the place of the former ones once they can be drawn. */
export default function Preview({ set }: { set: SheetSet }) {
  const { room } = useHere()
  const [pdf, setPdf] = useState<OpenPdf | null>(null)
  const [broke, setBroke] = useState(false)
  useEffect(() => {
    let wanted = true
    setBroke(false)
    openPdf(set.pdf).then(
      (opened) => {
        if (!wanted) return opened.close()
        setPdf(opened)
        const { contents } = opened
        room.sheets.store.setState(({ page }) => ({
          shown: { set, contents },
          page: Math.min(page, contents.pages.length - 1),
        }))
      },
      () => wanted && setBroke(true),
    )
    return () => {
      wanted = false
    }
  }, [set, room])
  useEffect(() => () => pdf?.close(), [pdf])
  if (broke) return <p className="paper-said">{standing.notShown}</p>
  return pdf ? <Pages pdf={pdf} /> : <p className="paper-said">{standing.loading}</p>
}

function Pages({ pdf }: { pdf: OpenPdf }) {
  const { room } = useHere()
  const desk = useRef<HTMLElement>(null)
  const [extent, setExtent] = useState<Extent | null>(null)
  const zoom = useSheets((state) => state.zoom)
  const { pages, marks } = pdf.contents
  const scales = useMemo(() => pages.map((page) => (extent ? scaleOf(zoom, extent, page) : 1)), [pages, zoom, extent])
  const tops = useMemo(() => topsOf(pages, scales), [pages, scales])
  const page = useSheets((state) => state.page)
  useEffect(() => {
    const scale = scales[page]
    if (scale !== undefined) room.sheets.store.setState({ scale })
  }, [room, scales, page])
  useEffect(() => {
    const element = desk.current
    if (!element) return
    const measure = () => setExtent({ width: element.clientWidth, height: element.clientHeight })
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  useScroll(desk, tops)
  return (
    <>
      <p id="page-keys" className="unseen">
        {text.keys}
      </p>
      <section
        ref={desk}
        className="paper-pages"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls takes the focus for its keys
        tabIndex={0}
        aria-label={text.tools}
        aria-describedby="page-keys"
        onKeyDown={(event) => turn(event, room.sheets)}
      >
        {extent &&
          pages.map((page, i) => (
            <PaperPage
              // biome-ignore lint/suspicious/noArrayIndexKey: a page is known by its number
              key={i}
              pdf={pdf}
              index={i}
              scale={scales[i]}
              size={page}
              name={text.named(i + 1, pages.length, marks.findLast((mark) => mark.page <= i)?.title ?? '')}
            />
          ))}
      </section>
    </>
  )
}

/** Scrolling tells which page is seen; a wish to see one scrolls; other sizes keep in place what is at the top. */
function useScroll(desk: RefObject<HTMLElement | null>, tops: readonly number[]): void {
  const { room } = useHere()
  const anchor = useRef({ page: 0, share: 0 })
  const now = useRef(tops)
  now.current = tops
  useEffect(() => {
    const element = desk.current
    if (!element) return
    const onScroll = () => {
      const tops = now.current
      const { scrollTop, clientHeight } = element
      const top = pageAt(tops, scrollTop)
      anchor.current = { page: top, share: (scrollTop - tops[top]) / (tops[top + 1] - tops[top]) }
      // The last page may be too short to come to the middle.
      const isAtEnd = scrollTop + clientHeight >= element.scrollHeight - 2
      const page = isAtEnd && scrollTop > 0 ? tops.length - 2 : pageAt(tops, scrollTop + clientHeight / 2)
      if (page !== room.sheets.store.getState().page) room.sheets.store.setState({ page })
    }
    element.addEventListener('scroll', onScroll, { passive: true })
    return () => element.removeEventListener('scroll', onScroll)
  }, [desk, room])
  useLayoutEffect(() => {
    const { page, share } = anchor.current
    if (desk.current && page < tops.length - 1)
      desk.current.scrollTop = tops[page] + share * (tops[page + 1] - tops[page])
  }, [desk, tops])
  useEffect(
    () =>
      room.sheets.store.subscribe(({ turned, page }, before) => {
        if (turned !== before.turned && desk.current) desk.current.scrollTop = now.current[page] - 8
      }),
    [desk, room],
  )
}

/** Whole pages by the keys that a reader has for them; arrows scroll. */
function turn(event: KeyboardEvent, sheets: ReturnType<typeof useHere>['room']['sheets']): void {
  if (event.ctrlKey || event.metaKey || event.altKey) return
  const { page, shown } = sheets.store.getState()
  const last = (shown?.contents.pages.length ?? 1) - 1
  const to = { PageDown: page + 1, PageUp: page - 1, Home: 0, End: last }[event.key]
  if (to === undefined) return
  event.preventDefault()
  sheets.turnTo(to)
}
