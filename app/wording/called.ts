/** A thing with the word for what it is before its name, unless the name says it: `pipe Hot side`, but `Pipe 1`. */
export const called = (kind: string, name: string): string =>
  new RegExp(`\\b${kind}\\b`, 'i').test(name) ? name : `${kind} ${name}`
