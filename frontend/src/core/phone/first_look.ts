import type { ClockReading } from "../base/clock.ts";
import type { FarmZone } from "../base/days.ts";
import type { Keeping } from "./keeping.ts";
import type { DoeResult, Prompt } from "../outlook/shapes.ts";
import { given, read, small, type Picture } from "./picture.ts";
import type { Reading } from "./reading.ts";
import type { FarmStore } from "./store/farm_store.ts";
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
  readonly #reading: Reading;
  readonly #store: FarmStore;
  readonly #zone: FarmZone;
  #kept = "";

  constructor(keeping: Keeping, reading: Reading, store: FarmStore, zone: FarmZone) {
    [this.#keeping, this.#reading, this.#store, this.#zone] = [keeping, reading, store, zone];
  }

  /** False when there is none that this build can show. */
  async take(): Promise<boolean> {
    const text = await this.#keeping.firstLook().catch(() => "");
    this.picture = read(text);
    if (this.picture) this.#reading.show(this.picture);
    if (this.picture) this.#zone.trust(this.picture.span);
    return this.picture !== null;
  }

  async keep({ day, now, does, pens, clock }: Shown): Promise<void> {
    const { memory, meta, of_mates } = this.#keeping;
    if (this.picture || this.#keeping.writing) return;
    const view = small(this.#reading.view, day);
    const picture: Picture = {
      build: BUILD, day, span: this.#zone.spanAround(now), view, latest: this.#reading.latest,
      book: given(this.#reading.book, view), does, pens, waiting: memory.count("waiting") + of_mates.length,
      rejected: memory.count("rejected"),
    };
    const text = JSON.stringify(picture);
    if (text === this.#kept) return;
    this.#kept = text;
    await this.#store.keepPicture(text, { ...meta, clock }).catch(() => false);
  }
}
