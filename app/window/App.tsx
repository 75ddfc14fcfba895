import { type DragEvent, type ReactNode, useEffect, useState } from 'react'
import { listenForKeys } from './commands/keys.ts'
import { SideSheet } from './editors/SideSheet.tsx'
import { Ledger } from './ledger/Ledger.tsx'
import { Banner } from './stages/Banner.tsx'
import { Dialogs } from './stages/Dialogs.tsx'
import { Footer } from './stages/Footer.tsx'
import { Header } from './stages/Header.tsx'
import { Tour } from './tour/Tour.tsx'
import { SheetsPaper } from './sheets/SheetsPaper.tsx'
import { EmptyPaper, ReadingPaper } from './stages/Waiting.tsx'
import { type Here, HereContext, useHere, useWindow } from './state/context.ts'
import { stageIn } from './state/pipes.ts'
import { bayOf, freshness, isDirty } from './state/windowState.ts'
import { Viewport } from './viewport/Viewport.tsx'
import { words } from './words.ts'

export function App({ here }: { here: Here }) {
  return (
    <HereContext value={here}>
      <Sheet>
        <Header />
        <Banner />
        <Middle />
        <Footer />
        <Dialogs />
        <Tour />
      </Sheet>
    </HereContext>
  )
}

/** The window as one sheet. What stands on it comes from outside: that the sheet changes draws none of it anew. */
function Sheet({ children }: { children: ReactNode }) {
  const here = useHere()
  const stage = useWindow(stageIn)
  const state = useWindow((whole) => (whole.reading ? 'reading' : bayOf(whole) === null ? 'empty' : freshness(whole)))
  useEffect(() => listenForKeys(here), [here])
  useUnsavedGuard()
  useTitle()
  const drop = useDrop()
  return (
    <div
      className={`window ${drop.over ? 'window-dropping' : ''}`}
      data-state={state}
      data-stage={stage}
      {...drop.handlers}
    >
      {children}
    </div>
  )
}

/** Numbers at the left, the drawing in the middle, the ledger at the right. */
function Middle() {
  const stage = useWindow(stageIn)
  const loaded = useWindow((state) => bayOf(state) !== null)
  return (
    <main className={`middle ${loaded ? '' : 'middle-empty'}`}>
      {loaded && stage !== 'gaps' && <SideSheet stage={stage} />}
      <div className="drawing">
        <Viewport />
        {loaded && stage === 'sheets' && <SheetsPaper />}
        <EmptyPaper />
        <ReadingPaper />
      </div>
      {loaded && <Ledger />}
    </main>
  )
}

/** What the window is called outside: the bay, and whether something of it is unsaved. */
function useTitle(): void {
  const title = useWindow((state) => words.title(bayOf(state)?.name ?? null, isDirty(state)))
  useEffect(() => {
    document.title = title
  }, [title])
}

/** The browser, or the shell, asks before the window goes while something is unsaved. */
function useUnsavedGuard(): void {
  const { room } = useHere()
  useEffect(() => {
    const guard = (event: BeforeUnloadEvent) => {
      if (isDirty(room.store.getState())) event.preventDefault()
    }
    addEventListener('beforeunload', guard)
    return () => removeEventListener('beforeunload', guard)
  }, [room])
}

/** Files dropped anywhere on the window are opened. */
function useDrop() {
  const { room } = useHere()
  const [over, setOver] = useState(false)
  const takes = (event: DragEvent) => event.dataTransfer.types.includes('Files') && room.host.dropped !== undefined
  return {
    over,
    handlers: {
      onDragOver: (event: DragEvent) => {
        if (!takes(event)) return
        event.preventDefault()
        setOver(true)
      },
      onDragLeave: (event: DragEvent) => {
        if (!event.currentTarget.contains(event.relatedTarget as Node | null)) setOver(false)
      },
      onDrop: (event: DragEvent) => {
        setOver(false)
        if (!takes(event)) return
        event.preventDefault()
        void room.openDropped([...event.dataTransfer.files])
      },
    },
  }
}
