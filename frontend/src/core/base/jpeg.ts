/** What cameras write beside the picture: place, time, owner. A picture leaves this phone without it. */
const HARMLESS = new Set([0xe0, 0xe2]);
const [APP_0, APP_15, COMMENT, SCAN] = [0xe0, 0xef, 0xfe, 0xda];

/**
 * A JPEG without its notes (ISO/IEC 10918-1 annex B: markers; Exif stands in APP1). What is none comes back as it is.
 */
export function withoutNotes(picture: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  const view = new DataView(picture.buffer, picture.byteOffset, picture.byteLength);
  if (picture.length < 4 || view.getUint16(0) !== 0xffd8) return picture;
  const parts = [picture.subarray(0, 2)];
  let at = 2;
  while (at + 4 <= picture.length && picture[at] === 0xff && picture[at + 1] !== SCAN) {
    const [marker, end] = [picture[at + 1]!, at + 2 + view.getUint16(at + 2)];
    if (!isNote(marker)) parts.push(picture.subarray(at, end));
    at = end;
  }
  parts.push(picture.subarray(at));
  return joined(parts);
}

function isNote(marker: number): boolean {
  return marker === COMMENT || (marker >= APP_0 && marker <= APP_15 && !HARMLESS.has(marker));
}

function joined(parts: Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
