/** Reads one laboratory report as the app does. `node lab.ts REPORT` */
import { read_report, type Report } from "../../src/core/barn/lab/report.ts";

console.log(JSON.stringify(read_report(JSON.parse(process.argv[2]!) as Report)));
