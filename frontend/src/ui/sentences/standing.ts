import { LOOK_NOW } from "../../core/tables/prompts.ts";
import type { DoeResult, Line } from "../model/results.ts";

export type Level = "short" | "level" | "over" | "cant";

export interface Stand {
  level: Level;
  heading: "" | "short" | "over";
  /** The sums could as well be level: say "likely". */
  likely?: boolean;
}

const WORST = ["short", "over"] as const;

export function lineStand(line: Line | undefined): Stand {
  if (!line || line.st === "unknown") return { level: "cant", heading: "" };
  const ahead = line.st === "level" ? line.ahead?.st : undefined;
  return {
    level: line.st, likely: !line.sure && line.st !== "level",
    heading: ahead === "short" || ahead === "over" ? ahead : "",
  };
}

/** One mark for a doe: what her prompt speaks of if it speaks of a nutrient, else her energy. */
export function standOf(result: DoeResult | undefined): Stand {
  if (!result || is_unknown(result)) return { level: "cant", heading: "" };
  const [topic, ...rest] = (result.prompt?.code ?? "").split("_");
  const word = WORST.find((one) => rest.includes(one));
  if (word && ["energy", "calcium", "protein", "phosphorus"].includes(topic ?? "")) {
    return rest.includes("heading") ? { level: "level", heading: word } : { level: word, heading: "" };
  }
  const untold = topic === "score" || (result.lines.me?.st ?? "unknown") === "unknown";
  return { level: untold ? "cant" : "level", heading: "" };
}

/** What a sick doe eats is not what she is given. */
function is_unknown({ standing, prompt }: DoeResult): boolean {
  return standing !== "ok" || (prompt !== null && LOOK_NOW.includes(prompt.code));
}
