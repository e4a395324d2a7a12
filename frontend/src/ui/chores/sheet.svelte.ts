import type { FeedLine } from "../model/shapes.ts";
import { offOverlay, overlay } from "../shell/router.svelte.ts";

/** Which doe the "how did she eat" sheet is open for. */
class Sheet {
  doe = $state("");
  lines = $state.raw<FeedLine[]>([]);

  open(doe: string, lines: FeedLine[]): void {
    this.lines = lines;
    this.doe = doe;
    overlay(() => (this.doe = ""));
  }
  /** `next`: the page that comes in its place. */
  close(next?: string): void {
    this.doe = "";
    offOverlay(next);
  }
}

export const sheet = new Sheet();
