/**
 * Speech as any phone can make it and play it: mu-law at 8 kHz, one channel (ITU-T G.711), in a RIFF file. Half a
 * minute is 240 kB. For playing it is unfolded to plain 16-bit samples, which every engine plays.
 */
export const RATE_HZ = 8_000;
const [MU_LAW, PCM] = [7, 1];
const [BIAS, CLIP] = [0x84, 32_635];
const HEADER_BYTES = 58;
const PCM_HEADER_BYTES = 44;

/** One sample of 16 bits as a byte. */
export function folded(sample: number): number {
  const sign = sample < 0 ? 0x80 : 0;
  const size = Math.min(Math.abs(sample), CLIP) + BIAS;
  const exponent = 31 - Math.clz32(size) - 7;
  const mantissa = (size >> (exponent + 3)) & 0x0f;
  return ~(sign | (exponent << 4) | mantissa) & 0xff;
}

export function unfolded(byte: number): number {
  const code = ~byte & 0xff;
  const size = (((code & 0x0f) << 3) + BIAS) << ((code >> 4) & 0x07);
  return code & 0x80 ? BIAS - size : size - BIAS;
}

/** Samples between -1 and 1, at RATE_HZ, as a file. */
export function speechFile(samples: Float32Array): Uint8Array<ArrayBuffer> {
  const file = new Uint8Array(HEADER_BYTES + samples.length);
  const view = new DataView(file.buffer);
  words(file, 0, "RIFF", 8, "WAVEfmt ", 38, "fact", 50, "data");
  view.setUint32(4, file.length - 8, true);
  view.setUint32(16, 18, true);
  form(view, MU_LAW, 1);
  view.setUint32(42, 4, true);
  view.setUint32(46, samples.length, true);
  view.setUint32(54, samples.length, true);
  samples.forEach((sample, n) => (file[HEADER_BYTES + n] = folded(whole(sample))));
  return file;
}

/** The same as plain samples, to be played. Null for what is no file of ours. */
export function playable(file: ArrayBuffer): Uint8Array<ArrayBuffer> | null {
  const bytes = new Uint8Array(file);
  if (bytes.length < HEADER_BYTES || new DataView(file).getUint16(20, true) !== MU_LAW) return null;
  const said = bytes.subarray(HEADER_BYTES);
  const plain = new Uint8Array(PCM_HEADER_BYTES + 2 * said.length);
  const view = new DataView(plain.buffer);
  words(plain, 0, "RIFF", 8, "WAVEfmt ", 36, "data");
  view.setUint32(4, plain.length - 8, true);
  view.setUint32(16, 16, true);
  form(view, PCM, 2);
  view.setUint32(40, 2 * said.length, true);
  said.forEach((byte, n) => view.setInt16(PCM_HEADER_BYTES + 2 * n, unfolded(byte), true));
  return plain;
}

function whole(sample: number): number {
  return Math.round(Math.max(-1, Math.min(1, sample)) * 32_767);
}

function form(view: DataView, code: number, bytes: number): void {
  view.setUint16(20, code, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, RATE_HZ, true);
  view.setUint32(28, RATE_HZ * bytes, true);
  view.setUint16(32, bytes, true);
  view.setUint16(34, 8 * bytes, true);
}

function words(file: Uint8Array, ...placed: (number | string)[]): void {
  for (let n = 0; n < placed.length; n += 2) {
    const [at, word] = [placed[n] as number, placed[n + 1] as string];
    [...word].forEach((letter, k) => (file[at + k] = letter.charCodeAt(0)));
  }
}
