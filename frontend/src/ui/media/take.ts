import { withoutNotes } from "../../core/base/jpeg.ts";
import { media } from "../model/media.svelte.ts";
import { record } from "../model/record.ts";

/** A face or an udder on a phone's screen; a page of small print. */
const [SEEN_PX, PAGE_PX] = [1_200, 1_800];
const MOST_BYTES: Record<string, number> = { report: 390_000, label: 390_000 };
const FEW_BYTES = 240_000;
const QUALITIES = [0.8, 0.7, 0.55, 0.4, 0.25];

/** What was chosen is no picture to this phone: another sort of file, or one that came in half. */
export class NoPicture extends Error {}

/** A JPEG as it leaves this phone. */
export interface Small {
  content: Uint8Array<ArrayBuffer>;
  w: number;
  h: number;
}

/** Makes it small, keeps it on this phone, then writes it down. Throws where the phone has no room for it. */
export async function take(file: Blob, subject: string, what: string): Promise<void> {
  await keep(await shrunk(file, what), subject, what);
}

export async function keep({ content, w, h }: Small, subject: string, what: string): Promise<void> {
  const sha256 = await media.keep(content, "image/jpeg");
  record("picture", subject, { what, sha256, bytes: content.length, w, h }, { slot: "" });
  void media.send();
}

export async function shrunk(file: Blob, what: string): Promise<Small> {
  const most = MOST_BYTES[what] ?? FEW_BYTES;
  const paper = await drawn(file, most > FEW_BYTES ? PAGE_PX : SEEN_PX);
  for (const quality of QUALITIES) {
    const made = await new Promise<Blob | null>((done) => paper.toBlob(done, "image/jpeg", quality));
    if (!made) break;
    const content = withoutNotes(new Uint8Array(await made.arrayBuffer()));
    if (content.length <= most) return { content, w: paper.width, h: paper.height };
  }
  throw new NoPicture();
}

async function drawn(file: Blob, longest: number): Promise<HTMLCanvasElement> {
  const whole = await createImageBitmap(file).catch(() => {
    throw new NoPicture();
  });
  const share = Math.min(1, longest / Math.max(whole.width, whole.height));
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [whole.width, whole.height].map((px) => Math.max(1, Math.round(px * share))) as [
    number, number,
  ];
  const pen = canvas.getContext("2d")!;
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(whole, 0, 0, canvas.width, canvas.height);
  whole.close();
  return canvas;
}
