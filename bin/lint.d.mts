export function sourceTexts(): Map<string, string>
