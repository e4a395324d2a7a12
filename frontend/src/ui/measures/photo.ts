const LONGEST_PX = 900;
const QUALITY = 0.72;

/** A picture small enough to keep by the dozen, as a data address. */
export async function shrunk(file: Blob): Promise<string> {
  const whole = await createImageBitmap(file);
  const share = Math.min(1, LONGEST_PX / Math.max(whole.width, whole.height));
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [Math.round(whole.width * share), Math.round(whole.height * share)];
  canvas.getContext("2d")!.drawImage(whole, 0, 0, canvas.width, canvas.height);
  whole.close();
  return canvas.toDataURL("image/jpeg", QUALITY);
}
