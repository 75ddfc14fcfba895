// Control characters and marks that turn the direction of text: a stranger's name must not steer the terminal or the page.
// biome-ignore lint/suspicious/noControlCharactersInRegex: just these are to be found
export const steering = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/

/** The same text with such characters written out as \\uXXXX, fit to be shown in a fault. */
export const printable = (text: string): string =>
  text.replace(new RegExp(steering, 'g'), (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`)
