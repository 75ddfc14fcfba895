export function gatherApp(): Promise<string>
