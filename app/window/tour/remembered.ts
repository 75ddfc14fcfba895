const key = 'gapwright-toured'

/** Whether nobody was shown round here yet. Where nothing can be remembered, no: it would come again each time. */
export function isNewHere(): boolean {
  try {
    return localStorage.getItem(key) === null
  } catch {
    return false
  }
}

export function rememberToured(): void {
  try {
    localStorage.setItem(key, 'yes')
  } catch {
    // A private window keeps nothing; `isNewHere` then says no as well.
  }
}
