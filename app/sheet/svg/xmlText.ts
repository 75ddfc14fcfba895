const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
}

/** Text as it may stand in an element or an attribute; characters that XML has no place for become a mark. */
export const escaped = (text: string): string =>
  [...text].map((letter) => (isXml(letter) ? (entities[letter] ?? letter) : '\ufffd')).join('')

/** The characters of XML 1.0, production 2: no control characters but three, no halves of pairs. */
function isXml(letter: string): boolean {
  const code = letter.codePointAt(0) ?? 0
  if (code < 0x20) return code === 9 || code === 10 || code === 13
  return code < 0xd800 || (code > 0xdfff && code < 0xfffe) || code > 0xffff
}
