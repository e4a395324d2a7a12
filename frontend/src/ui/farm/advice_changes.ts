/** What changed in the advice, newest first: version of the science, its day, and its sentence as `changed.VERSION`. */
export const ADVICE_CHANGES = [
  ["1.9.0", "2026-11-30"],
  ["1.8.0", "2026-11-30"],
  ["1.7.0", "2026-11-30"],
  ["1.6.1", "2026-11-29"],
  ["1.6.0", "2026-11-28"],
  ["1.5.0", "2026-11-28"],
  ["1.4.1", "2026-11-25"],
  ["1.4.0", "2026-11-25"],
] as const;
