import type { FeedLine } from "../model/shapes.ts";

/** Which doe the "how did she eat" sheet is open for. */
class Sheet {
  doe = $state("");
  lines = $state.raw<FeedLine[]>([]);

  open(doe: string, lines: FeedLine[]): void {
    this.lines = lines;
    this.doe = doe;
  }
  close(): void {
    this.doe = "";
  }
}

export const sheet = new Sheet();
