import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Heading } from 'react-aria-components/Heading'
import { useHere } from '../state/context.ts'
import { words } from '../words.ts'
import { type PictureScale, saveDrawing, savePicture } from './picturesOut.ts'

const text = words.seeing.picture
const sizes: readonly PictureScale[] = [1, 2, 4]
const views = ['front', 'side', 'plan'] as const

/** Pictures out: the present view in pixels, the three drawings in lines. */
export function PictureTools() {
  const here = useHere()
  const [said, setSaid] = useState<string | null>(null)
  const run = (saving: Promise<string | null>) => void saving.then(setSaid, () => setSaid(text.failed))
  return (
    <section className="look-group">
      <Heading level={3}>{text.title}</Heading>
      <div className="look-row">
        <span>{text.png}</span>
        <span className="picture-sizes">
          {sizes.map((times, i) => (
            <Button
              key={times}
              className="small"
              aria-label={[text.png1, text.png2, text.png4][i]}
              onPress={() => run(savePicture(here, times))}
            >
              {text.sizes[i]}
            </Button>
          ))}
        </span>
      </div>
      <div className="look-row">
        {views.map((view) => (
          <Button key={view} className="small" onPress={() => run(saveDrawing(here, view))}>
            {text.svg[view]}
          </Button>
        ))}
      </div>
      <p className="look-note" role="status">
        {said}
      </p>
    </section>
  )
}
