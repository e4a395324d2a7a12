const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

type Random = (bytes: number) => Uint8Array;

/**
 * UUID version 7 (RFC 9562). An id, not a clock: its time part is the phone's, so nothing is ordered or authorised by
 * it.
 */
export function newId(now_ms: number, random: Random): string {
  const bytes = random(16);
  let rest = Math.max(0, Math.min(Math.floor(now_ms), 0xffff_ffff_ffff));
  for (let i = 5; i >= 0; i--) {
    bytes[i] = rest % 256;
    rest = Math.floor(rest / 256);
  }
  return stamped(bytes, 7);
}

/**
 * Random (version 4), so that the eight digits a clock reading carries differ between phones set up in the same minute.
 */
export function newDeviceId(random: Random): string {
  return stamped(random(16), 4);
}

const LANES = [597399067, 2869860233, 951274213, 2716044179];
const SEEDS = [1779033703, 3144134277, 1013904242, 2773480762];

/**
 * An id worked out from words (version 8), the same on every phone that works it out. No secret and no proof: only so
 * spread out that two lists of words do not meet.
 */
export function idOf(...words: string[]): string {
  const h = [...SEEDS];
  for (const char of words.join("\n")) {
    const code = char.codePointAt(0)!;
    LANES.forEach((lane, i) => (h[i] = h[(i + 1) % 4]! ^ Math.imul(h[i]! ^ code, lane)));
  }
  const spread = LANES.map((lane, i) => Math.imul(h[(i + 2) % 4]! ^ (h[i]! >>> 15), lane) ^ h[(i + 1) % 4]!);
  const bytes = spread.flatMap((word) => [word >>> 24, word >>> 16, word >>> 8, word].map((byte) => byte & 0xff));
  return stamped(Uint8Array.from(bytes), 8);
}

export function isId(text: unknown): text is string {
  return typeof text === "string" && UUID.test(text);
}

function stamped(bytes: Uint8Array, version: number): string {
  bytes[6] = (bytes[6]! & 0x0f) | (version << 4);
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}
