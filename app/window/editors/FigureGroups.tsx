import { words } from '../words.ts'
import { FigureField } from './FigureField.tsx'
import type { FigureGroup } from './specs.ts'
import { Together } from './Together.tsx'

/** Numbers in groups, each in its place. */
export function FigureGroups({ groups }: { groups: readonly FigureGroup[] }) {
  return (
    <>
      {groups.map((group) => (
        <Group key={group.figures[0] ? group.figures[0].path.join() : group.title} {...group} />
      ))}
    </>
  )
}

function Group({ title, figures, together }: FigureGroup) {
  const fields = figures.map((spec) => <FigureField key={spec.path.join()} spec={spec} />)
  return (
    <fieldset className={`figure-group ${together ? 'figure-group-three figure-group-together' : ''}`}>
      {title && (
        <legend>
          {title}
          {together && (
            <span className="together-hint" aria-hidden="true">
              {words.field.allAtOnce[figures[0].quantity]}
            </span>
          )}
        </legend>
      )}
      {together ? <Together specs={figures}>{fields}</Together> : fields}
    </fieldset>
  )
}
