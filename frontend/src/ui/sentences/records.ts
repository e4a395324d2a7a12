import { amount, calendar, heavy, ketones, warmth, percent, score, span, type Units } from "../words/format.ts";
import { feedInfo, nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { t, type Args } from "../words/text.ts";
import type { Data, Envelope, Intake } from "../model/shapes.ts";

export interface RecordLine {
  id: string;
  what: string;
  when: string;
  who: string;
  voided: boolean;
  waiting: boolean;
}

const KEPT = 60;

/** Her last records in words, newest first; a taken-back one stays and says so. */
export function recordsOf(subject: string): RecordLine[] {
  const waiting = new Set(session.farm?.pending().map(({ event }) => event.id));
  const { voided } = day.view;
  return session.events
    .filter((event) => event.subject === subject && event.kind !== "void")
    .sort((a, b) => b.happened - a.happened || (a.hlc < b.hlc ? 1 : -1))
    .slice(0, KEPT)
    .map((event) => ({
      id: event.id, what: spoken(event), when: day.when(event.happened), who: session.who(event.author),
      voided: event.id in voided, waiting: waiting.has(event.id),
    }));
}

/** For the line at the foot: long facts by their noun, short ones with their value, so that a slip of the thumb shows. */
export function briefly(event: Envelope): string {
  const noun = `rec.${event.kind}`;
  const long = ["ration", "note", "signs", "doe", "pen", "lot", "feed", "rules", "contact", "shelf", "scoop", "jar", "correct"].includes(event.kind);
  const name = (event.data["f"] as Data | undefined)?.["name"];
  return long ? String(name ?? t(noun)) : spoken(event);
}

/** How a meal went, for a button: a share only where one was said. */
export function didOf({ how, left_pm }: Pick<Intake, "how" | "left_pm">): string {
  return how === "left_some" && !left_pm ? t("did.left_unsaid") : t(`did.${how}`, { pm: percent(left_pm) });
}

/** One event as one short line. */
export function spoken({ kind, data, slot, subject }: Pick<Envelope, "kind" | "data" | "slot" | "subject">): string {
  const args = argsOf(kind, data, subject);
  const key = kind === "freeze" ? held(data) : `r.${kind}`;
  if (kind === "intake") return `${didOf({ how: String(data["how"]), left_pm: 10 * Number(data["left_pct"] ?? 0) })}, ${t(`slot.${slot}`)}`;
  return t(key, { ...args, slot: t(`slot.${slot}`) });
}

function held(data: Data): string {
  return data["until_on"] ? (data["grain_out"] ? "r.freeze_out" : "r.freeze") : "r.freeze_off";
}

function readings(data: Data, units: Units): string {
  const [temp, bhb, urine] = [Number(data["temp_c_x10"]), Number(data["bhb_x10"]), String(data["urine"] ?? "")];
  const seen = ["cud", "dung", "legs", "eyes", "udder", "belly"].map((key) => data[key] && t(`vet.seen.${key}.${String(data[key])}`));
  return [temp && warmth(temp, units), bhb && t("r.blood", { bhb: ketones(bhb) }), urine && t("r.urine", { urine: t(`o.urine.${urine}`) }), ...seen].filter(Boolean).join(", ");
}

function argsOf(kind: string, data: Data, subject: string): Args {
  const { view, units } = day;
  const get = (key: string) => String(data[key] ?? "");
  const list = (key: string) => (Array.isArray(data[key]) ? (data[key] as unknown[]) : []);
  const feed = (id: string) => feedInfo(view, day.feeds, id).name;
  switch (kind) {
    case "udder": return { fill: t(`udder.fill.${get("fill")}`), uneven: data["uneven"] ? t("r.uneven") : "" };
    case "score": return { x100: score(Number(data["x100"])) };
    case "signs": return { seen: list("seen").map((code) => t(`sign.${String(code)}`)).join("; ") || t("none") };
    case "weight": case "milk": return { g: heavy(Number(data["g"]), units) };
    case "checkup": return { temp: readings(data, units) };
    case "weather": return { low: warmth(10 * Number(data["low_c"]), units), wet: data["wet"] ? t("r.wet") : "" };
    case "water": return { n: list("values").length, place: get("place") && `, ${get("place")}` };
    case "note": return { text: get("text") };
    case "bred": return { span: span(get("from_on"), get("to_on") || get("from_on"), day.today) };
    case "preg_check": return { result: t(`o.result.${get("result")}`) };
    case "moved": return { pen: nameOf(view.pens[get("pen")]) || t("doe.no_pen") };
    case "kidded": return { born: get("born"), alive: get("alive") };
    case "left_herd": return { why: t(`o.why.${get("why")}`) };
    case "ration": return { feed: feed(get("feed")), g: (list("steps") as { g: number }[]).map(({ g }) => amount(g, units)).join(", ") };
    case "fed": return { n: list("lines").length, name: nameOf(view.pens[subject]) };
    case "treatment": return { product: get("product"), until: get("milk_until") && t("r.milk_held", { date: calendar(get("milk_until"), day.today) }) };
    case "freeze": return { date: get("until_on") && calendar(get("until_on"), day.today) };
    case "calibration": return { what: t(`o.weighed.${get("of")}`), g: (list("fills_g") as number[]).map((g) => amount(g, units)).join(", ") };
    case "new_bag": return { feed: feed(get("feed")) };
    case "round": return { what: view.does[subject] ? t(Number(data["count"]) ? "o.round.found" : "o.round.missing") : t(`o.round.${get("what")}`, { count: get("count"), of: get("of") }) };
    case "triage": return { what: t(`o.triage.${get("result")}`) };
    case "doe": case "pen": case "lot": case "feed": case "rules": case "contact": case "shelf": case "scoop": case "jar": return { fields: Object.keys((data["f"] as object) ?? {}).map((key) => t(`f.${key}`)).join(", ") };
    default: return { pm: percent(0), kind };
  }
}
