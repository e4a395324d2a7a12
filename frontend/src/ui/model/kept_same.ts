/** Gives the same object as before while it says the same, so that what hangs on it is not drawn anew. */
export function keptSame<T>(): (now: T) => T {
  let [said, kept] = ["", undefined as T];
  return (now) => {
    const text = JSON.stringify(now);
    if (text !== said) [said, kept] = [text, now];
    return kept;
  };
}
