import { kid_of_record } from "../../core/barn/kids.ts";
import { nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Envelope } from "../model/shapes.ts";
import { calendar, heavy } from "../words/format.ts";
import { has, t, type Args } from "../words/text.ts";

type Fact = Pick<Envelope, "data" | "subject">;
const get = ({ data }: Fact, key: string) => String(data[key] ?? "");
const date = (fact: Fact, key: string) => (get(fact, key) ? calendar(get(fact, key), day.today) : "");
const looked = (fact: Fact, key: string) => get(fact, key) && t(`dam.${key}.${get(fact, key)}`);
const LOOKED = ["bright", "drank", "ate", "halves", "discharge"];

/** How a kid is called: by its name, else by its number and its dam. */
export function kidName(id: string): string {
  const line = kid_of_record(day.view, id);
  const f = line?.f ?? {};
  const dam = nameOf(day.view.does[String(f["dam"] ?? "")]);
  return String(f["name"] ?? "") || (line ? t("kid.one", { n: line.shown, dam }) : t("rec.kid"));
}

/** By the table, or in the farm's own words. */
function taskName(task: string): string {
  const own = day.view.own_tasks[task]?.f["title"];
  return own ? String(own) : has(`task.${task}`) ? t(`task.${task}`) : t("rec.task");
}

/** What the sentences of kidding, of nights and of the year's tasks have to be told. */
export const OF_YEAR: Record<string, (fact: Fact) => Args> = {
  dry_plan: (fact) => ({ date: date(fact, "last_on") }),
  dam_look: (fact) => ({ what: LOOKED.map((key) => looked(fact, key)).filter(Boolean).join(", ") || t("none") }),
  heat: (fact) => ({ what: t(`o.heat.${get(fact, "what")}`) }),
  kid_weight: (fact) => ({ name: kidName(fact.subject), g: heavy(Number(fact.data["g"]), day.units) }),
  kit_used: ({ data, subject }) => ({ n: Number(data["n"]), name: String(day.view.kit[subject]?.f["name"] ?? "") }),
  task: (fact) => ({
    name: taskName(get(fact, "task")), what: t(`o.task.${get(fact, "what")}`, { date: date(fact, "to_on") }),
  }),
  hand_over: (fact) => ({ who: get(fact, "to") && session.who(get(fact, "to")), word: get(fact, "word") }),
};
