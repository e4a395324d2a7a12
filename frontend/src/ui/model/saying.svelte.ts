import { route } from "../shell/router.svelte.ts";
import type { Envelope, Saved } from "./shapes.ts";

/** What a tap did. */
export interface Done {
  key: string;
  /** What is said of it; where nothing is, the entry speaks for itself. */
  said: string;
  event: Envelope | undefined;
  /** Everything one tap wrote: taken back in one tap as well. */
  undo: string[];
}

export interface Toast extends Done {
  /** Where the person was in the walk through screens when it came up. */
  moves: number;
}

/** What a tap did, said at the foot of the page. */
class Saying {
  toast = $state.raw<Toast | null>(null);

  /** "Saved" is said only once the phone has really written it. */
  follow({ saved }: Saved, done: Done): void {
    const mine: Toast = { ...done, key: "saving", moves: route.moves };
    this.toast = mine;
    saved.then(
      () => {
        if (this.toast === mine) this.toast = { ...mine, key: done.key };
      },
      () => this.notSaved(),
    );
  }
  notSaved(): void {
    this.only("not_saved");
  }
  /** A word by itself, of no entry. */
  only(key: string): void {
    this.toast = { key, said: "", event: undefined, undo: [], moves: route.moves };
  }
}

export const saying = new Saying();
