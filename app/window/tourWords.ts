/** Words of the first start and of the way round; part of `words`. */
export const tourWords = {
  open: 'Show me round',
  label: 'Way round the window',
  step: (n: number, all: number) => `${n} of ${all}`,
  next: 'Next',
  back: 'Back',
  leave: 'Leave',
  done: 'Done',
  keys: 'Escape leaves.',
  steps: {
    measure: {
      title: 'Measure: what is there',
      text: 'Each keep-out is something the cooler must stay clear of, with the clearance it asks for and how sure its measuring is. Choose one to change its numbers.',
    },
    core: {
      title: 'Core: how large it may be',
      text: 'The largest core that clears, with the proof that none is larger, and what holds it. The sizes of your candidate are in the same column: type them, or step them with the arrow keys.',
    },
    gaps: {
      title: 'Gaps: whether it clears',
      text: 'Every part against every keep-out, smallest margin first. Choose a row and the drawing flies to that gap. What is not proved is never called clear.',
    },
    hand: {
      title: 'Hand over: what you take along',
      text: 'This menu saves the bay and holds the other commands. The search field at the right of the top edge finds everything by name, and brings this way round back.',
    },
  },
  examples: {
    title: 'Or look at an example',
    note: 'Both are invented.',
    tarnbeck: 'Tarnbeck 300',
    tarnbeckText: 'An expedition van: a charge-air cooler behind a bowed crash beam. Millimetres.',
    corvane: 'Corvane HC',
    corvaneText: 'A hill-climb single-seater: an oil cooler in the sidepod. Inches and fractions.',
  },
}
