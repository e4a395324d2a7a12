/** The check sum of RFC 1952 over the text's UTF-8 bytes, as eight hexadecimal digits. */
const REVERSED = 0xedb88320;

export function crc32(text: string): string {
  let crc = -1;
  for (const byte of new TextEncoder().encode(text)) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? REVERSED : 0);
  }
  return ((crc ^ -1) >>> 0).toString(16).padStart(8, "0");
}
