import { bring } from "./bring.ts";
import { Schedule } from "./sync/schedule.ts";
import type { Ended, LockedBy } from "./sync/ended.ts";
import type { Sender } from "./sync/sender.ts";
import type { Parts as SenderParts } from "./sync/sender_parts.ts";

interface Parts extends Omit<SenderParts, "sending"> {
  /** Something that can be seen has changed. */
  changed: () => void;
  /** Sends what others left on this phone. */
  others: () => Promise<Ended | null>;
}

/** When this phone and the farm's server tell each other what is new, and how that stands. */
export class ServerLink {
  readonly schedule: Schedule;
  /** The last try to reach the server came to nothing: what waits here is known to nobody else. */
  unheard = false;
  locked: LockedBy | null = null;
  sending: { n: number; of: number } | null = null;
  readonly #parts: Parts;
  #sender: Sender | null = null;
  #running: Promise<Ended> | null = null;

  constructor(parts: Parts) {
    this.#parts = parts;
    this.schedule = new Schedule(() => this.run(), parts.env);
  }

  run(): Promise<Ended> {
    this.#running ??= this.#once().finally(() => (this.#running = null));
    return this.#running;
  }

  /** A run of its own: one that is under way may have looked already. */
  async anew(): Promise<Ended> {
    await this.#running?.catch(() => undefined);
    return this.run();
  }

  /** One's own entries, and nothing else. */
  async send(): Promise<Ended> {
    const { Sender } = await bring();
    this.#sender ??= new Sender({ ...this.#parts, sending: (n, of) => this.#onSending(n, of) });
    return this.#sender.run();
  }

  /** The same for whoever left entries here: on the farm no more, she leaves nothing of it behind. */
  async sendOrLeave(): Promise<Ended> {
    const ended = await this.send();
    return ended.kind === "removed" ? this.#wiped(ended) : ended;
  }

  async #once(): Promise<Ended> {
    const { keeping, view, others, changed } = this.#parts;
    keeping.lookAtClocks();
    await keeping.saveFailed();
    const ended = await this.send();
    if (ended.kind !== "later" || ended.why !== "other_tab") this.unheard = ended.kind !== "done";
    if (ended.kind === "removed") return this.#wiped(ended);
    const told = ended.kind === "done" ? await others() : null;
    this.sending = null;
    if (ended.kind === "done") (await bring()).tidy(keeping, view);
    else keeping.note(`sync_${ended.kind}`, ended.why);
    if (ended.kind !== "later") this.locked = ended.kind === "locked" ? ended.why : null;
    keeping.keepDiagnostics();
    changed();
    return told ?? ended;
  }

  /** What could be handed in has been; the rest stays, and nothing else of the farm. */
  async #wiped(ended: Ended): Promise<Ended> {
    const { store, keeping, env, changed } = this.#parts;
    const { wipe } = await import("./store/wipe.ts");
    this.schedule.stop();
    await wipe(store, env, keeping.wiped());
    changed();
    return ended;
  }

  #onSending(n: number, of: number): void {
    this.sending = { n, of };
    if (n) this.#parts.changed();
  }
}
