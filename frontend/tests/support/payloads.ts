/** Reads payloads from a file, one a line, and says of each which field is refused, or null. `node payloads.ts FILE` */
import { readFileSync } from "node:fs";
import type { Json } from "../../src/core/events/events.ts";
import { problem_in } from "../../src/core/events/payloads.ts";

interface Given {
  kind: string;
  v: number;
  data: Json;
}

const lines = readFileSync(process.argv[2]!, "utf8").trim().split("\n");
const given = lines.map((line) => JSON.parse(line) as Given);
console.log(JSON.stringify(given.map(({ kind, v, data }) => problem_in(kind, v, data)?.field ?? null)));
