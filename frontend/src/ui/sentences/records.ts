import { calendar, heavy, ketones, warmth, score, span, type Units } from "../words/format.ts";
import { kid_of_record } from "../../core/barn/kids.ts";
import { feedInfo, nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { has, t, type Args } from "../words/text.ts";
import { didOf } from "./meals.ts";
import { OF_YEAR } from "./records_year.ts";
import type { Data, Envelope } from "../model/shapes.ts";

export interface RecordLine {
  id: string;
  what: string;
  when: string;
  who: string;
  /** When and by whom it was taken back; "" where it counts. */
  taken: string;
  waiting: boolean;
}

const KEPT = 60;

/** Her last records, newest first, and so many of them in words; a taken-back one stays and says so. */
export function recordsOf(subject: string, shown: number): { n: number; rows: RecordLine[] } {
  const waiting = new Set(session.farm?.pending().map(({ event }) => event.id));
  const all = session.events((event) => event.subject === subject && event.kind !== "void")
    .sort((a, b) => b.happened - a.happened || (a.hlc < b.hlc ? 1 : -1))
    .slice(0, KEPT);
  const rows = all.slice(0, shown).map((event) => ({
    id: event.id, what: spoken(event), when: day.when(event.happened), who: session.who(event.author),
    taken: takenSaid(event.id), waiting: waiting.has(event.id),
  }));
  return { n: all.length, rows };
}

function takenSaid(id: string): string {
  if (!(id in day.view.voided)) return "";
  const back = session.farm?.event(day.view.voided[id]!);
  return back
    ? t("last.taken_by", { at: day.when(back.happened), who: session.who(back.author) })
    : t("last.taken");
}

/**
 * For the line at the foot: long facts by their noun, short ones with their value, so that a slip of the thumb shows.
 */
export function briefly(event: Envelope): string {
  const noun = `rec.${event.kind}`;
  const long = [
    "ration", "wish", "decline", "note", "signs", "doe", "pen", "lot", "feed", "rules", "contact", "shelf", "scoop",
    "jar", "pack", "kid", "kit", "own_task", "correct",
  ].includes(event.kind);
  const name = (event.data["f"] as Data | undefined)?.["name"];
  return long ? String(name ?? t(noun)) : spoken(event);
}

/** One event as one short line. */
export function spoken({ kind, data, slot, subject }: Pick<Envelope, "kind" | "data" | "slot" | "subject">): string {
  const args = argsOf(kind, { data, subject });
  const key = KEYS[kind]?.(data) ?? `r.${kind}`;
  if (kind === "intake")
    return `${didOf({ how: String(data["how"]), left_pm: 10 * Number(data["left_pct"] ?? 0) })}, ${t(`slot.${slot}`)}`;
  return t(key, { slot: t(`slot.${slot}`), ...args });
}

/** Kinds that say one thing or another. */
const KEYS: Record<string, (data: Data) => string> = {
  freeze: (data) => (data["until_on"] ? (data["grain_out"] ? "r.freeze_out" : "r.freeze") : "r.freeze_off"),
  dry_plan: (data) => (data["last_on"] ? "r.dry_plan" : "r.dry_plan_off"),
  signs: (data) => ([data["seen"], data["absent"]].flat().length ? "r.signs" : "r.signs.same"),
  hand_over: (data) => (data["to"] ? "r.hand_over" : "r.hand_over_word"),
};

function readings(data: Data, units: Units): string {
  const [temp, bhb, urine] = [Number(data["temp_c_x10"]), Number(data["bhb_x10"]), String(data["urine"] ?? "")];
  const seen = ["cud", "dung", "legs", "eyes", "udder", "belly"].map(
    (key) => data[key] && t(`vet.seen.${key}.${String(data[key])}`),
  );
  return [
    temp && warmth(temp, units), bhb && t("r.blood", { bhb: ketones(bhb) }),
    urine && t("r.urine", { urine: t(`o.urine.${urine}`) }), ...seen,
  ]
    .filter(Boolean)
    .join(", ");
}

type Fact = Pick<Envelope, "data" | "subject">;
const get = ({ data }: Fact, key: string) => String(data[key] ?? "");
const list = ({ data }: Fact, key: string) => (Array.isArray(data[key]) ? (data[key] as unknown[]) : []);
const feedName = (id: string) => feedInfo(day.view, day.feeds, id).name;
const grams = (amounts: number[]) => amounts.map((g) => day.amount(g)).join(", ");
const weighed = ({ data }: Fact): Args => ({ g: heavy(Number(data["g"]), day.units) });

/** Its own meals, whichever stood open when it was written. */
const planned = (fact: Fact): Args => ({
  feed: feedName(get(fact, "feed")),
  slot: [...list(fact, "slots"), get(fact, "slot")].filter(Boolean).map((slot) => t(`slot.${String(slot)}`)).join(", "),
  g: grams((list(fact, "steps") as { g: number }[]).map(({ g }) => g)),
});

/** What the sentence of each kind has to be told. */
const ARGS: Record<string, (fact: Fact) => Args> = {
  picture: (fact) => ({ what: t(`picture.${get(fact, "what")}`) }),
  voice: ({ data }) => ({ n: Math.max(1, Math.round(Number(data["ms"]) / 1000)) }),
  udder: (fact) => {
    const felt = get(fact, "felt");
    const uneven = fact.data["uneven"] ? t("r.uneven") : "";
    const how = felt ? t("r.felt", { how: t(`o.felt.${felt}`) }) : "";
    return { fill: t(`udder.fill.${get(fact, "fill")}`), uneven: uneven + how };
  },
  score: ({ data }) => ({ x100: score(Number(data["x100"])) }),
  signs: (fact) => ({ seen: list(fact, "seen").map((code) => t(`sign.${String(code)}`)).join("; ") || t("none") }),
  weight: weighed,
  milk: weighed,
  checkup: ({ data }) => ({ temp: readings(data, day.units) }),
  weather: ({ data }) => ({ low: warmth(10 * Number(data["low_c"]), day.units), wet: data["wet"] ? t("r.wet") : "" }),
  water: (fact) => ({ n: list(fact, "values").length, place: get(fact, "place") && `, ${get(fact, "place")}` }),
  note: (fact) => ({ text: get(fact, "text") }),
  bred: (fact) => ({ span: span(get(fact, "from_on"), get(fact, "to_on") || get(fact, "from_on"), day.today) }),
  preg_check: (fact) => ({ result: t(`o.result.${get(fact, "result")}`) }),
  moved: (fact) => ({ pen: nameOf(day.view.pens[get(fact, "pen")]) || t("doe.no_pen") }),
  kidded: (fact) => ({ born: get(fact, "born"), alive: get(fact, "alive") }),
  left_herd: (fact) => ({ why: t(`o.why.${get(fact, "why")}`) }),
  ration: planned,
  wish: planned,
  decline: (fact) => ({ word: get(fact, "word") }),
  got_into: (fact) => ({
    feed: get(fact, "feed") ? feedName(get(fact, "feed")) : t("grain"),
    g: fact.data["g"] === null ? t("got_into.unknown") : day.amount(Number(fact.data["g"])),
  }),
  fed: (fact) => ({ n: list(fact, "lines").length, name: nameOf(day.view.pens[fact.subject]) }),
  treatment: (fact) => {
    const until = get(fact, "milk_until");
    return { product: get(fact, "product"), until: until && t("r.milk_held", { date: calendar(until, day.today) }) };
  },
  freeze: (fact) => ({ date: get(fact, "until_on") && calendar(get(fact, "until_on"), day.today) }),
  calibration: (fact) => ({
    what: t(`o.weighed.${get(fact, "of")}`),
    g: grams(list(fact, "fills_g") as number[]),
  }),
  new_bag: (fact) => ({ feed: feedName(get(fact, "feed")) }),
  round: (fact) => ({ what: looked(fact) }),
  kid_look: (fact) => ({ n: kidNumber(fact), what: kidLook(fact.data) }),
  afterbirth: (fact) => ({ what: t(`afterbirth.${get(fact, "seen")}`) }),
  ...OF_YEAR,
  triage: (fact) => ({ what: t(`o.triage.${get(fact, "result")}`) }),
};

const kidNumber = (fact: Fact) => kid_of_record(day.view, get(fact, "of"))?.shown ?? get(fact, "kid");

function kidLook(data: Data): string {
  const told = ["mouth", "swallows", "fed", "up", "belly"].map(
    (key) => data[key] && t(`kids.${key}.${String(data[key])}`),
  );
  const read = Number(data["rectal_c_x10"]);
  return [data["dead"] && t("kids.dead"), read && warmth(read, day.units), ...told].filter(Boolean).join(", ");
}

function looked(fact: Fact): string {
  const { data, subject } = fact;
  if (day.view.does[subject]) return t(Number(data["count"]) ? "o.round.found" : "o.round.missing");
  return t(`o.round.${get(fact, "what")}`, { count: get(fact, "count"), of: get(fact, "of") });
}

/** A record of the farm is told by the fields that were written. */
function argsOf(kind: string, fact: Fact): Args {
  if (Object.hasOwn(ARGS, kind)) return ARGS[kind]!(fact);
  const keys = Object.keys((fact.data["f"] as object) ?? {}).map((key) => `f.${key}`);
  const labels = keys.map((key) => t(has(key) ? key : "f.other"));
  return { fields: [...new Set(labels)].join(", ") };
}
