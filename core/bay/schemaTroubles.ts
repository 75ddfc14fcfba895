import { z } from 'zod'
import { nearestName } from './nearest.ts'
import { valueAt } from './trouble.ts'
import type { Trouble } from './trouble.ts'
import type { Path } from './jsonText.ts'

/** What a schema has against a value; the only place that knows how the schema library words its issues. */
export function schemaTroubles(schema: z.ZodType, value: unknown, prefix: Path = []): Trouble[] {
  const result = schema.safeParse(value)
  if (result.success) return []
  return result.error.issues.flatMap((issue) =>
    troublesOf(issue, schema, value).map((trouble) => ({ ...trouble, path: [...prefix, ...trouble.path] })),
  )
}

type Issue = z.core.$ZodIssue

function troublesOf(issue: Issue, schema: z.ZodType, value: unknown): Trouble[] {
  const path = issue.path as Path
  const got = valueAt(value, path)
  const told = (code: string, expected: string, nearest?: string): Trouble[] => {
    if (got === undefined) return [{ code: 'missing-field', path, expected }]
    return [{ code, path, expected, got, ...(nearest !== undefined && { nearest }) }]
  }
  switch (issue.code) {
    case 'invalid_type':
      return told(
        typeof got === 'number' && issue.expected === 'number' ? 'not-finite' : 'wrong-type',
        typeWords[issue.expected] ?? issue.expected,
      )
    case 'invalid_value': {
      const names = issue.values.map(String)
      return told('wrong-value', oneOf(issue.values), typeof got === 'string' ? nearestName(got, names) : undefined)
    }
    case 'invalid_union':
      return unionTroubles(issue, told, got)
    case 'unrecognized_keys':
      return issue.keys.map((key) =>
        unknownField([...path, key], valueAt(value, [...path, key]), fieldsAt(schema, path, value)),
      )
    case 'too_small':
      return told(...tooSmall(issue, lengthOfTuple(schema, path, value)))
    case 'too_big':
      return told(...tooBig(issue, lengthOfTuple(schema, path, value)))
    case 'invalid_format':
      return told('wrong-format', issue.message)
    default:
      return told('wrong-value', issue.message)
  }
}

const typeWords: Record<string, string> = {
  number: 'a number',
  string: 'text',
  array: 'a list',
  tuple: 'a list',
  object: 'an object',
  boolean: 'true or false',
}

const oneOf = (values: readonly unknown[]): string => {
  const words = values.map((value) => JSON.stringify(value))
  return words.length === 1 ? words[0] : `one of ${words.join(', ')}`
}

/** Only unions told apart by a field occur in the bay: the issue names the field and its values. */
function unionTroubles(
  issue: Extract<Issue, { code: 'invalid_union' }>,
  told: (code: string, expected: string, nearest?: string) => Trouble[],
  got: unknown,
): Trouble[] {
  const options = ((issue as { options?: readonly unknown[] }).options ?? []).map(String)
  if (options.length === 0) return told('wrong-value', issue.message)
  return told('wrong-value', oneOf(options), typeof got === 'string' ? nearestName(got, options) : undefined)
}

function unknownField(path: Path, got: unknown, fields: readonly string[]): Trouble {
  const nearest = nearestName(String(path[path.length - 1]), fields)
  return {
    code: 'unknown-field',
    path,
    expected: `one of ${fields.join(', ')}`,
    got,
    ...(nearest !== undefined && { nearest }),
  }
}

function tooSmall(
  issue: Extract<Issue, { code: 'too_small' }>,
  tuple: number | null,
): [code: string, expected: string] {
  const least = Number(issue.minimum)
  if (tuple !== null) return ['wrong-count', `a list of ${tuple}`]
  if (issue.origin === 'array') return ['too-few', `at least ${least}`]
  if (issue.origin === 'string') return ['empty-text', `at least ${least} character${least === 1 ? '' : 's'}`]
  return ['too-small', issue.inclusive ? `at least ${least}` : `more than ${least}`]
}

function tooBig(issue: Extract<Issue, { code: 'too_big' }>, tuple: number | null): [code: string, expected: string] {
  const most = Number(issue.maximum)
  if (tuple !== null) return ['wrong-count', `a list of ${tuple}`]
  if (issue.origin === 'array') return ['too-many', `at most ${most}`]
  if (issue.origin === 'string') return ['too-long', `at most ${most} characters`]
  return ['too-large', issue.inclusive ? `at most ${most}` : `less than ${most}`]
}

function lengthOfTuple(schema: z.ZodType, path: Path, value: unknown): number | null {
  const here = schemaAt(schema, path, value)
  return here instanceof z.ZodTuple ? here.def.items.length : null
}

function fieldsAt(schema: z.ZodType, path: Path, value: unknown): string[] {
  const here = schemaAt(schema, path, value)
  return here instanceof z.ZodObject ? Object.keys(here.shape) : []
}

/** The schema that holds at a path; the value tells which member of a union is meant. */
function schemaAt(schema: z.ZodType, path: Path, value: unknown): z.ZodType | null {
  let here: z.ZodType | null = bare(schema, value)
  for (let depth = 0; depth < path.length && here; depth++) {
    const key = path[depth]
    const inner: unknown =
      here instanceof z.ZodObject
        ? here.shape[key]
        : here instanceof z.ZodArray
          ? here.element
          : here instanceof z.ZodTuple
            ? here.def.items[key as number]
            : null
    here = inner instanceof z.ZodType ? bare(inner, valueAt(value, path.slice(0, depth + 1))) : null
  }
  return here
}

function bare(schema: z.ZodType, value: unknown): z.ZodType | null {
  if (schema instanceof z.ZodOptional) return bare(schema.unwrap() as z.ZodType, value)
  if (!(schema instanceof z.ZodDiscriminatedUnion)) return schema
  const discriminator = schema.def.discriminator
  const kind = valueAt(value, [discriminator])
  const options = schema.options as readonly z.ZodType[]
  return (
    options.find(
      (option) => option instanceof z.ZodObject && (option.shape[discriminator] as z.ZodLiteral).value === kind,
    ) ?? null
  )
}
