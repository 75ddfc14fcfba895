import { called } from '../wording/called.ts'

/** Lists of a bay as people call one thing in them; any other list by its own name. */
const oneOf: Readonly<Record<string, string>> = {
  keepOuts: 'keep-out',
  openings: 'opening',
  ports: 'port',
  fixings: 'fixing',
  candidates: 'candidate',
  pipes: 'pipe',
  mounts: 'mount',
  benders: 'bender',
}
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** What is said about unsaved work, changed files, steps and recent bays. */
export const keepingWords = {
  lost: {
    title: 'Unsaved work was found',
    text: 'The window was closed, or ended, before this was saved. It is kept until you take it back or discard it.',
    /** Name, folder, when. */
    from: (where: string) => (where === '' ? 'not from a folder on this machine' : `in ${where}`),
    when: (ms: number) => new Date(ms).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' }),
    take: 'Take it back',
    takeOf: (name: string) => `Take back ${name}`,
    compare: 'What differs',
    compareOf: (name: string) => `What differs in ${name}`,
    discard: 'Discard',
    discardOf: (name: string) => `Discard the unsaved work on ${name}`,
    later: 'Decide later',
    step: 'Unsaved work taken back',
    differs: (name: string) => `${name}: what its file has, and what was unsaved (lengths in mm)`,
    none: 'Nothing differs: all of it is in the file.',
    unknown: 'The file cannot be read now, so the two cannot be compared.',
    /** `Candidate Wide 90, pipe Hot side: bend radius` */
    placeOf: (items: readonly { list: string; name: string }[], field: string) => {
      const within = items.map(({ list, name }) => called(oneOf[list] ?? list, name)).join(', ')
      const plain = field.replace(/([a-z])([A-Z])/g, (_, end, begin) => `${end} ${begin.toLowerCase()}`)
      return capital([within, plain.replaceAll('.', ', ')].filter((text) => text !== '').join(': '))
    },
    place: 'Where',
    before: 'In the file',
    after: 'Unsaved',
    absent: 'not there',
    present: 'there',
    notTaken: 'The unsaved work was not taken back',
    notKept: 'Unsaved work cannot be kept aside at the moment',
    notKeptHint: 'Save the bay, so that a crash costs nothing.',
  },
  outside: {
    changedTitle: 'The file was changed by another program',
    changed: (name: string) =>
      `${name} on the disk is no longer what was opened here. Nothing is overwritten until you decide.`,
    changedDirty: 'What you have not saved is in this window only.',
    goneTitle: 'The file is no longer there',
    gone: (name: string) =>
      `${name} was moved or deleted, or its disk was taken away. Your work is in this window, and kept aside.`,
    keep: 'Keep mine',
    take: 'Take theirs',
    elsewhere: 'Save mine as …',
    anew: 'Write it anew',
    later: 'Decide later',
    step: 'What was on the disk',
    notRead: 'The file on the disk was not read',
  },
  steps: {
    open: 'Undo history …',
    title: 'Steps',
    text: 'Choose a step to go back or forth to. Later steps stay, until something new is done.',
    list: 'Steps, oldest first',
    start: 'As it was opened',
    older: 'The oldest steps are forgotten',
    now: 'now',
    undone: 'taken back',
    close: 'Close',
  },
  recent: {
    open: 'Open recent …',
    title: 'Bays that were open before',
    list: 'Bays, newest first',
    none: 'None yet. Bays that you open are listed here.',
    clear: 'Clear this list',
    close: 'Close',
  },
  keptAside: 'Your work is kept aside: it is offered again if this window should end.',
} as const
