/** Words of the first start and of the way round; part of `words`. */
export const tourWords = {
  open: 'Show me round',
  label: 'Way round the window',
  step: (n: number, all: number) => `${n} of ${all}`,
  next: 'Next',
  back: 'Back',
  leave: 'Leave',
  done: 'Done',
  steps: {
    measure: {
      title: 'Measure: what is there',
      text: 'Each keep-out is something the cooler must stay clear of, with the clearance it asks for and how sure its measuring is. Choose one to change its numbers.',
    },
    core: {
      title: 'Core: how large it may be',
      text: 'The largest core that clears, with the proof that none is larger, and what holds it. Below are the sizes of your candidate: type, or step with the arrow keys.',
    },
    gaps: {
      title: 'Gaps: whether it clears',
      text: 'Every part against every keep-out, smallest margin first. Choose a row and the drawing flies to that gap. What is not proved is never called clear.',
    },
    hand: {
      title: 'Hand over: what you take along',
      text: 'This menu saves the bay and copies or exports what others need. The search field beside the units finds everything else, and shows this way round again.',
    },
  },
  first: {
    title: 'Begin with a bay',
    text: 'A bay is a measured space and all that has to fit into it. Look at one of the two examples, open your own, or start with an empty one. A file dropped here is opened too, together with the meshes it names.',
    examples: 'Examples, invented',
    tarnbeck: 'Tarnbeck 300',
    tarnbeckText: 'An expedition van: a charge-air cooler behind a bowed crash beam. Millimetres.',
    corvane: 'Corvane HC',
    corvaneText: 'A hill-climb single-seater: an oil cooler in the sidepod. Inches and fractions.',
    open: 'Open a bay …',
    blank: 'Start an empty bay',
  },
}
