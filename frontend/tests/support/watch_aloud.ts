import catalogue from "../../src/texts/en.json";
import type { DoeResult } from "../../src/core/outlook/ground/shapes.ts";
import { promptOf, say } from "../../src/ui/sentences/prompt.ts";
import { restOfRow, restWords, watchBeside, watchWords } from "../../src/ui/sentences/resting.ts";
import { speak } from "../../src/ui/words/text.ts";
import { day } from "./aloud_day.ts";

interface Told {
  name: string;
  on: string;
  now: number;
  view: { does: Record<string, never> };
  signs: object;
  results: { does: Record<string, DoeResult> };
  chances: object | null;
}

/** Of each: her row on Chores, her card on the watch, her own page, and when the next look falls due. */
export function watch_aloud(rows: Told[]): object[] {
  speak(catalogue, "en");
  return rows.map(read);
}

function read({ name, on, now, view, signs, results, chances }: Told): object {
  const at = new Date(now);
  const minute = 60 * at.getUTCHours() + at.getUTCMinutes();
  Object.assign(day, { view, feeds: {}, results, today: on, now, signs, minute, hour: at.getUTCHours() });
  const [result, doe] = [results.does["doe"]!, view.does["doe"]!];
  const prompt = promptOf(result);
  const said = prompt && say(prompt);
  const beside = watchBeside(result, doe);
  const watch = watchWords(result, doe);
  const page = [said ? `[${said.prompt.code}] ${said.text} ${said.why} ${said.act}` : restWords(result, doe), beside];
  return {
    name, chances, code: said?.prompt.code ?? "", row: restOfRow(result, doe), watch: watch?.text ?? "",
    page: page.filter(Boolean).join(" + "), due: watch?.due ? day.when(watch.due) : "",
  };
}
