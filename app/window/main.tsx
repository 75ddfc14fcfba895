import { createRoot } from 'react-dom/client'
import { commandNamed } from './commands/list.ts'
import { App } from './App.tsx'
import { hostHere } from './host/hostHere.ts'
import { firstTextSize, rememberTextSize, wearTextSize } from './state/textSize.ts'
import { startSeeing } from './seeing/seeing.ts'
import { firstTheme, rememberTheme } from './state/theme.ts'
import { createWindowStore, type Theme } from './state/windowState.ts'
import { Workroom } from './state/workroom.ts'
import { Eye } from './viewport/eye.ts'
import './style/paper.css'
import './style/sheet.css'
import './style/controls.css'
import './style/drawing.css'
import './style/ledger.css'
import './style/callouts.css'
import './style/largest.css'
import './style/measure.css'
import './style/pipes.css'
import './style/routes.css'
import './style/pipeDrawing.css'
import './style/handles.css'
import './style/marks.css'
import './style/seat.css'
import './style/candidate.css'
import './style/keeping.css'
import './style/seeing.css'
import './style/compare.css'
import './style/stock.css'
import './style/find.css'
import './style/tour.css'
import './style/preview.css'
import './style/narrow.css'
import './style/tight.css'

const store = createWindowStore({ theme: firstTheme(), seeing: { ...startSeeing, text: firstTextSize() } })
const wearTheme = (theme: Theme) => {
  document.documentElement.dataset.theme = theme
}
wearTheme(store.getState().theme)
// Before anything else hears of it: the drawing takes its colours from the page.
store.subscribe(({ theme }, before) => {
  if (theme === before.theme) return
  wearTheme(theme)
  rememberTheme(theme)
})

wearTextSize(store.getState().seeing.text)
store.subscribe(({ seeing }, before) => {
  if (seeing.text === before.seeing.text) return
  wearTextSize(seeing.text)
  rememberTextSize(seeing.text)
})
addEventListener('resize', () => wearTextSize(store.getState().seeing.text))

const startWorker = () => new Worker(new URL('../worker/worker.ts', import.meta.url), { type: 'module' })
const startSearcher = () => new Worker(new URL('../worker/searcher.ts', import.meta.url), { type: 'module' })
const room = new Workroom(store, hostHere(), startWorker, startSearcher)
const here = { room, eye: new Eye() }
// Another program may have changed the bay meanwhile; and a window that is left may be ended without a word.
addEventListener('focus', () => void room.keeping.check())
document.addEventListener('visibilitychange', () => document.hidden && room.keeping.hurry())
room.host.onCommand?.((name) => commandNamed(name).perform(here))

const root = document.getElementById('root')
if (!root) throw new Error('the page has no place for the window')
createRoot(root).render(<App here={here} />)
void room.start()
