import { readFileSync } from "node:fs";
import { served } from "./aloud_server.mjs";

/** Prints what does near kidding are told, as `tests/support/watch_does.py` wrote them down. */
await served("/tests/support/watch_aloud.ts", ({ watch_aloud }) => {
  process.stdout.write(JSON.stringify(watch_aloud(JSON.parse(readFileSync(process.argv[2], "utf8")))));
});
