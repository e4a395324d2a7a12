import { MediaStore } from "../../core/phone/store/media.ts";
import type { UnsentRow } from "../../core/phone/store/rows.ts";
import { mediaOf, sendMedia } from "../../core/phone/sync/media.ts";
import type { At } from "../../core/phone/sync/narrowed.ts";
import type { Doors } from "../../core/tables/wire.ts";
import { playable } from "../../core/base/speech.ts";
import { day } from "./day.svelte.ts";
import { session } from "./session.svelte.ts";

/** Kept on every phone, to know a doe or a scoop by where there is no signal. */
const KNOWN_BY = new Set(["her", "container", "label"]);
const VOICES = 10;

/** Pictures and recordings as they are on this phone. */
class Media {
  /** Those the server has not got, and those it will not have. */
  unsent = $state.raw<UnsentRow[]>([]);
  #store: MediaStore | null = null;
  #farm = "";
  #urls = new Map<string, Promise<string>>();
  #running: Promise<void> | null = null;

  /** What is made here is on this phone before anything names it. Returns its mark. */
  async keep(content: Uint8Array<ArrayBuffer>, type: string): Promise<string> {
    const sha256 = hex(await crypto.subtle.digest("SHA-256", content));
    await this.#here().keepOwn({ sha256, type, content: content.buffer });
    await this.count();
    return sha256;
  }

  /** An address to show or to play; "" where neither this phone nor the server has it now. */
  url(sha256: string): Promise<string> {
    const held = this.#urls.get(sha256);
    if (held) return held;
    const made = this.#made(sha256).catch(() => "");
    this.#urls.set(sha256, made);
    void made.then((url) => url || this.#urls.delete(sha256));
    return made;
  }

  /** After the words: sends what waits, and fetches what every phone should have. */
  send(): Promise<void> {
    return (this.#running ??= this.#sent().catch(() => undefined).finally(() => (this.#running = null)));
  }

  async count(): Promise<void> {
    this.unsent = await this.#here().unsent();
    session.pictures = this.unsent.length;
  }

  /** Bytes used and to be had, or null without an answer. */
  async room(): Promise<Doors["mediaRoom"]["answer"] | null> {
    const asked: At<"mediaRoom"> = { method: "GET", path: `/api/farms/${session.farmId}/media` };
    const reply = await session.farm!.session.send(asked);
    return reply.ok ? (reply.body as Doors["mediaRoom"]["answer"]) : null;
  }

  async #sent(): Promise<void> {
    const [farm, store] = [session.farm, this.#here()];
    if (!farm) return;
    const end = await sendMedia(farm.session, store, farm.farmId);
    await this.count();
    const held = new Set(await store.marks());
    for (const sha256 of end === "later" ? [] : this.#wanted()) {
      if (held.has(sha256)) continue;
      if (session.farm !== farm || !(await mediaOf(farm.session, store, farm.farmId, sha256))) return;
    }
  }

  #wanted(): string[] {
    const { pictures, voices } = day.view;
    const latest = new Map(pictures.map(({ subject, what, sha256 }) => [`${subject} ${what}`, { what, sha256 }]));
    const known_by = [...latest.values()].filter(({ what }) => KNOWN_BY.has(what));
    return [...known_by, ...voices.slice(-VOICES)].map(({ sha256 }) => sha256);
  }

  async #made(sha256: string): Promise<string> {
    const row = await mediaOf(session.farm!.session, this.#here(), session.farmId, sha256);
    if (!row) return "";
    const content = row.type === "audio/wav" ? playable(row.content) : row.content;
    return content ? URL.createObjectURL(new Blob([content], { type: row.type })) : "";
  }

  #here(): MediaStore {
    if (this.#store && this.#farm === session.farmId) return this.#store;
    this.#store?.close();
    for (const url of this.#urls.values()) void url.then((made) => URL.revokeObjectURL(made));
    this.#urls.clear();
    this.#farm = session.farmId;
    return (this.#store = new MediaStore(this.#farm, session.door.env));
  }
}

function hex(bytes: ArrayBuffer): string {
  return Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

export const media = new Media();
