import type { ClockReading } from "../base/clock.ts";
import type { FarmZone } from "../base/days.ts";
import type { Keeping } from "./keeping.ts";
import type { DoeResult, Prompt } from "../outlook/ground/shapes.ts";
import { given, read, small, type Picture } from "./picture.ts";
import type { FarmStore } from "./store/farm_store.ts";
import type { WorkedOut } from "./worked_out.ts";
import { BUILD } from "../base/versions.ts";

interface Shown {
  day: string;
  now: number;
  does: Record<string, DoeResult>;
  pens: Record<string, Prompt | null>;
  clock: ClockReading;
}

/** What was on the screen when the farm was last at rest: shown until everything has been read. */
export class FirstLook {
  picture: Picture | null = null;
  readonly #keeping: Keeping;
  readonly #worked: WorkedOut;
  readonly #store: FarmStore;
  readonly #zone: FarmZone;
  #kept = "";

  constructor(keeping: Keeping, worked: WorkedOut, store: FarmStore, zone: FarmZone) {
    [this.#keeping, this.#worked, this.#store, this.#zone] = [keeping, worked, store, zone];
  }

  /** False when there is none that this build can show. */
  async take(): Promise<boolean> {
    const text = await this.#keeping.firstLook().catch(() => "");
    this.picture = read(text);
    if (this.picture) this.#worked.show(this.picture);
    if (this.picture) this.#zone.trust(this.picture.span);
    return this.picture !== null;
  }

  async keep({ day, now, does, pens, clock }: Shown): Promise<void> {
    const { memory, meta, of_sharers } = this.#keeping;
    if (this.picture || this.#keeping.writing) return;
    const view = small(this.#worked.view, day);
    const picture: Picture = {
      build: BUILD, day, span: this.#zone.spanAround(now), view, latest: this.#worked.latest,
      book: given(this.#worked.book, view), does, pens, waiting: memory.count("waiting") + of_sharers.length,
      rejected: memory.count("rejected"),
    };
    const text = JSON.stringify(picture);
    if (text === this.#kept) return;
    this.#kept = text;
    await this.#store.keepPicture(text, { ...meta, clock }).catch(() => false);
  }
}
