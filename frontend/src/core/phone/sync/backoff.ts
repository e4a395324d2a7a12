const FIRST_MS = 1_000;
const LONGEST_MS = 300_000;

/** 1 s, 2 s, 4 s … 5 min, each between half and whole, so that phones coming back together do not knock together. */
export function backoff_ms(failures: number, chance: number): number {
  const whole = Math.min(LONGEST_MS, FIRST_MS * 2 ** Math.min(Math.max(failures, 1) - 1, 20));
  return Math.round(whole * (0.5 + chance / 2));
}
