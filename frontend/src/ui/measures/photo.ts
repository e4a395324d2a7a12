const LONGEST_PX = 900;
/** Small print stays readable. */
export const PAGE_PX = 1800;
const QUALITY = 0.72;

/** A picture small enough to keep by the dozen, as a data address. */
export async function shrunk(file: Blob, longest = LONGEST_PX): Promise<string> {
  const whole = await createImageBitmap(file);
  const share = Math.min(1, longest / Math.max(whole.width, whole.height));
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [Math.round(whole.width * share), Math.round(whole.height * share)];
  const paper = canvas.getContext("2d")!;
  paper.fillStyle = "#fff";
  paper.fillRect(0, 0, canvas.width, canvas.height);
  paper.drawImage(whole, 0, 0, canvas.width, canvas.height);
  whole.close();
  return canvas.toDataURL("image/jpeg", QUALITY);
}
