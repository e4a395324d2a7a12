/** Reads generated laboratory reports from a file, one a line, and says where this twin differs from Python. `node lab_twin.ts FILE` */
import { readFileSync } from "node:fs";
import { canonical } from "../../src/core/canonical.ts";
import { read_report, type Report } from "../../src/core/lab/report.ts";

const lines = readFileSync(process.argv[2]!, "utf8").trim().split("\n");
const differ = lines.flatMap((line) => {
  const { report, outcome } = JSON.parse(line) as { report: Report; outcome: string };
  const here = canonical(read_report(report));
  return here === outcome ? [] : [`${JSON.stringify(report)}\n here ${here}\n there ${outcome}`];
});
console.log(JSON.stringify({ cases: lines.length, differ }));
