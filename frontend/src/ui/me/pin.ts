/** Four to six digits: what a cold thumb can do. */
export const isPin = (typed: string): boolean => /^\d{4,6}$/.test(typed);
