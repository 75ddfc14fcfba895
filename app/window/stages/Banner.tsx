import { Button } from 'react-aria-components/Button'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'

/** What went wrong with a file, in the fault's own words; whatever was open before stays. */
export function Banner() {
  const { room } = useHere()
  const banner = useWindow((state) => state.banner)
  const loaded = useWindow((state) => bayOf(state) !== null)
  if (!banner) return null
  return (
    <div className="banner" role="alert">
      <div>
        <p className="banner-title">
          {banner.title}. {loaded && !banner.news && words.banner.kept}
        </p>
        <ul>
          {banner.lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </div>
      <Button className="icon" aria-label={words.banner.close} onPress={() => room.store.setState({ banner: null })}>
        ✕
      </Button>
    </div>
  )
}
