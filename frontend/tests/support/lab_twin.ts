/**
 * Reads generated laboratory reports from a file, one a line, and says where this twin differs from Python. `node
 * lab_twin.ts FILE`
 */
import { readFileSync } from "node:fs";
import { canonical } from "../../src/core/events/canonical.ts";
import { read_minerals } from "../../src/core/barn/lab/minerals.ts";
import { read_report, type Report } from "../../src/core/barn/lab/report.ts";

const lines = readFileSync(process.argv[2]!, "utf8").trim().split("\n");
const differ = lines.flatMap((line) => {
  const { report, minerals, outcome } = JSON.parse(line) as {
    report: Report;
    minerals: Parameters<typeof read_minerals>;
    outcome: string;
  };
  const here = canonical({ ...read_report(report), minerals: read_minerals(...minerals) });
  return here === outcome ? [] : [`${JSON.stringify(report)}\n here ${here}\n there ${outcome}`];
});
console.log(JSON.stringify({ cases: lines.length, differ }));
