/** A dry doe has kidded before, whether or not anybody counted how often. */
export function kiddedBefore(state: string, counted: number): number {
  return Math.max(counted, state === "dry" || state === "milk" ? 1 : 0);
}
