export function electronProgram(): string | null
export function electronOrWhyNot(say: (line: string) => void): Promise<{ program: string } | { why: string }>
