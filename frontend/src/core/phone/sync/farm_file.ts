import type { FarmEntry } from "./session.ts";
import type { Account } from "./account.ts";
import type { Heard } from "./account_shapes.ts";

/** What a farm's file says of itself; "unknown" where this browser cannot look: the server will. */
export type Inside = { name: string; entries: number; pictures: number } | "unknown" | null;

const FORMAT = "mangerline-farm";
const MANIFEST = "manifest.json";
/** The end of a ZIP, its list of files, and the head of one in it: signature, then length without the names. */
const END = { is: 0x06054b50, long: 22 };
const LISTED = { is: 0x02014b50, long: 46 };
const HEAD = { long: 30, name: 26, extra: 28 };
const LONGEST_REMARK = 0xffff;
const PACKED = 8;
/** More is no farm's list, and need not be looked through on a phone. */
const MOST_LIST = 16 * 2 ** 20;

/** Read on the phone: nothing is sent before somebody has seen that it is the right one. */
export async function look_inside(file: Blob): Promise<Inside> {
  const found = await entry_of(file, MANIFEST).catch(() => null);
  if (!found) return null;
  if (found.packed && !("DecompressionStream" in globalThis)) return "unknown";
  const said = await text_of(found.content, found.packed).then(JSON.parse).catch(() => null) as Manifest | null;
  if (said?.format !== FORMAT || typeof said.farm?.name !== "string") return null;
  const pictures = Object.keys(said.files ?? {}).filter((name) => name.startsWith("pictures/")).length;
  return { name: said.farm.name, entries: Number(said.counts?.["entries"] ?? 0), pictures };
}

interface Manifest {
  format?: unknown;
  farm?: { name?: unknown };
  counts?: Record<string, number>;
  files?: Record<string, unknown>;
}

async function entry_of(file: Blob, wanted: string): Promise<{ content: Blob; packed: boolean } | null> {
  const tail = await view_of(file.slice(-(END.long + LONGEST_REMARK)));
  let at = tail.byteLength - END.long;
  while (at >= 0 && tail.getUint32(at, true) !== END.is) at--;
  if (at < 0) return null;
  const [size, first] = [tail.getUint32(at + 12, true), tail.getUint32(at + 16, true)];
  if (size > MOST_LIST) return null;
  const list = await view_of(file.slice(first, first + size));
  for (let row = 0; row + LISTED.long <= list.byteLength && list.getUint32(row, true) === LISTED.is; ) {
    const name = list.getUint16(row + 28, true);
    const is = new TextDecoder().decode(new Uint8Array(list.buffer, row + LISTED.long, name));
    if (is === wanted) {
      const [method, long, head] = [list.getUint16(row + 10, true), list.getUint32(row + 20, true), row + 42];
      return { content: await behind_head(file, list.getUint32(head, true), long), packed: method === PACKED };
    }
    row += LISTED.long + name + list.getUint16(row + 30, true) + list.getUint16(row + 32, true);
  }
  return null;
}

async function behind_head(file: Blob, at: number, long: number): Promise<Blob> {
  const head = await view_of(file.slice(at, at + HEAD.long));
  const first = at + HEAD.long + head.getUint16(HEAD.name, true) + head.getUint16(HEAD.extra, true);
  return file.slice(first, first + long);
}

async function view_of(part: Blob): Promise<DataView<ArrayBuffer>> {
  return new DataView(await part.arrayBuffer());
}

async function text_of(content: Blob, packed: boolean): Promise<string> {
  if (!packed) return content.text();
  return new Response(content.stream().pipeThrough(new DecompressionStream("deflate-raw"))).text();
}

export interface Bringing {
  account: Pick<Account, "beginFarmFile" | "sendPart" | "takeIn">;
  wait: (ms: number) => Promise<void>;
  /** Bytes that are there by now; false where nobody waits for it any more. */
  tell: (sent: number) => boolean;
}

/** What passes by itself. The same part again, and the same file taken in again, change nothing. */
const PASSES = new Set(["no_answer", "not_ours", "busy", "server_error", "server", "slow"]);
const PAUSE_MS = 3000;
const PART_TRIES = 8;
/** A farm of many years takes the server minutes; a proxy in between may not wait for the answer. */
const TAKE_IN_TRIES = 120;

const STOPPED = { ok: false, code: "stopped", where: "", after_ms: 0 } as const;

/** The file goes to the server a part at a time, and becomes a farm of hers there. */
export async function bring(on: Bringing, file: Blob, password: string, name: string): Promise<Heard<FarmEntry>> {
  const begun = await on.account.beginFarmFile(password, file.size);
  if (!begun.ok) return begun;
  const { file: id, part_bytes } = begun.body;
  for (let first = 0; first < file.size; first += part_bytes) {
    const part = new Uint8Array(await file.slice(first, first + part_bytes).arrayBuffer());
    const heard = await again(on, PART_TRIES, () => on.account.sendPart(id, first / part_bytes, part));
    if (!heard.ok) return heard;
    if (!on.tell(Math.min(file.size, first + part_bytes))) return STOPPED;
  }
  return again(on, TAKE_IN_TRIES, () => on.account.takeIn(id, name));
}

async function again<T>({ wait }: Bringing, tries: number, ask: () => Promise<Heard<T>>): Promise<Heard<T>> {
  for (let left = tries; ; left--) {
    const heard = await ask();
    if (heard.ok || left <= 1 || !PASSES.has(heard.code)) return heard;
    await wait(Math.max(PAUSE_MS, heard.after_ms));
  }
}
