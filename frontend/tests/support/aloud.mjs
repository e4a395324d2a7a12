import { readFileSync } from "node:fs";
import { served } from "./aloud_server.mjs";

/** Prints what farms were told, as `python -m tests.support.read_aloud` wrote it down. */
await served("/tests/support/aloud.ts", ({ read_aloud }) => {
  process.stdout.write(`${read_aloud(JSON.parse(readFileSync(process.argv[2], "utf8"))).join("\n")}\n`);
});
