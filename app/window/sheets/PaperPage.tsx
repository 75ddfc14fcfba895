import { TextLayer } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { type CSSProperties, type RefObject, useEffect, useRef, useState } from 'react'
import { drawnPage, type OpenPdf } from './openPdf.ts'
import type { Extent } from './zoom.ts'

interface Props {
  readonly pdf: OpenPdf
  readonly index: number
  readonly size: Extent
  /** Pixels to a point. */
  readonly scale: number
  readonly name: string
}

/** One page: drawn while it is near to what is seen, its words to be marked over it, and its lines for a screen reader. */
export function PaperPage({ pdf, index, size, scale, name }: Props) {
  const paper = useRef<HTMLElement>(null)
  const near = useNear(paper)
  const [lines, setLines] = useState<readonly string[]>([])
  useEffect(() => {
    let wanted = true
    pdf.lines(index).then(
      (read) => wanted && setLines(read),
      () => {},
    )
    return () => {
      wanted = false
    }
  }, [pdf, index])
  const style = {
    width: `${Math.round(size.width * scale)}px`,
    height: `${Math.round(size.height * scale)}px`,
    '--total-scale-factor': scale,
  } as CSSProperties
  return (
    <article ref={paper} className="paper-page" aria-label={name} style={style}>
      <div className="unseen">
        {lines.map((line, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: lines have nothing but their place
          <p key={i}>{line}</p>
        ))}
      </div>
      {near && <Drawn pdf={pdf} index={index} scale={scale} />}
      {near && <Marked pdf={pdf} index={index} />}
    </article>
  )
}

/** Whether an element is within a window's height of what is seen. */
function useNear(element: RefObject<HTMLElement | null>): boolean {
  const [near, setNear] = useState(false)
  useEffect(() => {
    const page = element.current
    if (!page) return
    const observer = new IntersectionObserver(([{ isIntersecting }]) => setNear(isIntersecting), {
      root: page.parentElement,
      rootMargin: '60% 0px',
    })
    observer.observe(page)
    return () => observer.disconnect()
  }, [element])
  return near
}

/** The page in pixels. The former picture stays, drawn out or shrunk, until the new one is ready. */
function Drawn({ pdf, index, scale }: Pick<Props, 'pdf' | 'index' | 'scale'>) {
  const stand = useRef<HTMLDivElement>(null)
  useEffect(() => {
    let wanted = true
    let cancel = () => {}
    const draw = async () => {
      const page = await pdf.page(index)
      if (!wanted) return
      const drawn = drawnPage(page, scale)
      cancel = drawn.cancel
      await drawn.done
      if (wanted) stand.current?.replaceChildren(drawn.canvas)
    }
    draw().catch(() => {
      // Given up, or a document that was closed meanwhile: another picture is under way.
    })
    return () => {
      wanted = false
      cancel()
    }
  }, [pdf, index, scale])
  return <div ref={stand} className="paper-picture" aria-hidden="true" />
}

/** Unseen letters over the drawn ones, so that numbers can be marked and copied. */
function Marked({ pdf, index }: Pick<Props, 'pdf' | 'index'>) {
  const layer = useRef<HTMLDivElement>(null)
  useEffect(() => {
    let wanted = true
    const lay = async () => {
      const page = await pdf.page(index)
      const container = document.createElement('div')
      const textContentSource = await page.getTextContent()
      const text = new TextLayer({ textContentSource, container, viewport: page.getViewport({ scale: 1 }) })
      await text.render()
      if (wanted) layer.current?.replaceChildren(container)
    }
    lay().catch(() => {
      // Of a document that was closed meanwhile.
    })
    return () => {
      wanted = false
    }
  }, [pdf, index])
  return <div ref={layer} className="paper-letters" aria-hidden="true" />
}
