import { route } from "../shell/router.svelte.ts";
import type { Saved } from "./shapes.ts";

export interface Toast {
  key: string;
  what: string;
  /** Everything one tap wrote: taken back in one tap as well. */
  undo: string[];
  /** Where the person was in the walk through screens when it came up. */
  moves: number;
}

/** What a tap did, said at the foot of the page. */
export class Saying {
  toast = $state.raw<Toast | null>(null);

  /** "Saved" is said only once the phone has really written it. */
  follow({ saved }: Saved, what: string, key: string, undo: string[]): void {
    const mine: Toast = { key: "saving", what, undo, moves: route.moves };
    this.toast = mine;
    saved.then(
      () => {
        if (this.toast === mine) this.toast = { ...mine, key };
      },
      () => this.notSaved(),
    );
  }
  notSaved(): void {
    this.toast = { key: "not_saved", what: "", undo: [], moves: route.moves };
  }
}
