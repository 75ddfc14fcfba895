import { FigureField } from './FigureField.tsx'
import type { FigureGroup } from './specs.ts'

/** Numbers in groups, each in its place. */
export function FigureGroups({ groups }: { groups: readonly FigureGroup[] }) {
  return (
    <>
      {groups.map(({ title, figures }) => (
        <fieldset key={figures[0] ? figures[0].path.join() : title} className="figure-group">
          {title && <legend>{title}</legend>}
          {figures.map((spec) => (
            <FigureField key={spec.path.join()} spec={spec} />
          ))}
        </fieldset>
      ))}
    </>
  )
}
