import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { TextField } from 'react-aria-components/TextField'
import { faultText } from '../../wording.ts'
import { words } from '../words.ts'
import type { FigureSpec } from './figure.ts'
import { fieldText, type Quantity } from './quantity.ts'
import { useFigure } from './useFigure.ts'

/**
 * One number of the bay. Enter or leaving takes what was typed, Escape puts the old value back, up and down step.
 * What cannot be read keeps the old value in the bay and says why beside the field. Among numbers that stand together, all
 * of them may be typed or pasted into one.
 */
export function FigureField({ spec, compact }: { spec: FigureSpec; compact?: boolean }) {
  const { value, shown, draft, setDraft, fault, waits, isOneOfSome, units, ...events } = useFigure(spec)
  return (
    <TextField
      className={`figure-field ${compact ? 'figure-field-compact' : ''}`}
      value={draft ?? shown}
      onChange={setDraft}
      isInvalid={fault !== null}
      aria-label={compact ? `${spec.of}, ${spec.label}` : undefined}
    >
      {!compact && <Label>{spec.label}</Label>}
      <span className="figure-input">
        <Input
          inputMode="text"
          autoComplete="off"
          spellCheck={false}
          placeholder={spec.otherwise === undefined ? spec.emptyText : fieldText(spec.otherwise, spec.quantity, units)}
          data-draft={draft !== null && draft !== shown ? true : undefined}
          {...events}
        />
        {!compact && <span className="figure-unit">{unitText(spec.quantity, units)}</span>}
      </span>
      {value === undefined && spec.otherwise !== undefined && draft === null && !compact && (
        <Text slot="description" className="figure-default">
          {words.field.byDefault(fieldText(spec.otherwise, spec.quantity, units))}
        </Text>
      )}
      {fault && (
        <Text slot="errorMessage" className="figure-fault">
          {isOneOfSome && `${spec.label}: `}
          {waits ? words.field.waits(faultText(fault)) : faultText(fault)}
        </Text>
      )}
    </TextField>
  )
}

const unitText = (quantity: Quantity, units: 'mm' | 'inch'): string =>
  quantity === 'length' ? words.field[units] : quantity === 'angle' ? words.field.degrees : words.field.share
