import type { Change } from "../../core/barn/vet/changes.ts";
import type { Week } from "../../core/barn/vet/fed.ts";
import type { Happening } from "../../core/barn/vet/happened.ts";
import type { VetPage } from "../../core/barn/vet_page.ts";
import { phoneOf, roleOf, rung } from "../emergency/contacts.ts";
import { minutes, pushing } from "../emergency/pushing.svelte.ts";
import { dateAt } from "../model/hours.ts";
import { amount, calendar, heavy, score, span } from "../words/format.ts";
import { feedInfo, nameOf, shortly } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { spoken } from "../sentences/records.ts";
import { t } from "../words/text.ts";
import { aloud } from "./aloud.ts";

export interface Section {
  key: string;
  lines: string[];
}

const feed = (id: string) => shortly(feedInfo(day.view, day.feeds, id).name);
const on = (date: string) => calendar(date, day.today);
const only = (lines: unknown[]) => lines.filter(Boolean) as string[];
const slotName = (slot: string) => t(`slot.${slot}`).toLowerCase();
const joined = (parts: unknown[]) => only(parts).join(", ");

/** The page in words: what the screen shows, what is shared and what is printed are these lines. */
export function sections(page: VetPage): Section[] {
  return [
    { key: "aloud", lines: [aloud(page)] },
    { key: page.aloud.buck ? "who_he" : "who", lines: who(page) },
    ...(page.aloud.buck ? [] : [{ key: "stage", lines: stage(page) }]),
    { key: "happened", lines: [...lately(page), ...page.happened.map(happening)] },
    { key: "given", lines: given(page) },
    { key: "changes", lines: page.changes.map(change) },
    { key: "fed", lines: page.weeks.map(week) },
    { key: "body", lines: body(page) },
    {
      key: "call",
      lines: rung(day.view)
        .map((row) => `${nameOf(row)}, ${t(`o.contact.${roleOf(row)}`)}: ${phoneOf(row)}`),
    },
  ].map(({ key, lines }) => ({ key, lines: lines.length ? lines : [t(`vet.none.${key}`)] }));
}

/** For a message to the vet. */
export function asText(page: VetPage): string {
  const head = joined([nameOf(page.doe), session.entry?.name, `${on(day.today)} ${day.clock(day.now)}`]);
  return [head, ...sections(page).flatMap(({ key, lines }) => ["", t(`vet.${key}`).toUpperCase(), ...lines])].join(
    "\n",
  );
}

function who({ doe, age_months, weight, worked_g, kiddings }: VetPage): string[] {
  const { f } = doe;
  const tag = String(f["tag"] ?? "");
  const breed = String(f["breed"] ?? "unknown");
  return only([
    joined([
      nameOf(doe), tag && t("vet.tag", { tag }),
      breed === "unknown" ? t("vet.breed.unknown") : t(`o.breed.${breed}`),
      f["size"] && t(`o.size.${String(f["size"])}`).toLowerCase(),
    ]),
    age_months === null
      ? t("vet.age.unknown")
      : age_months < 24
        ? t("vet.age.months", { n: age_months })
        : t("vet.age.years", { n: Math.floor(age_months / 12) }),
    weight
      ? t("vet.weight", {
          g: heavy(weight.g, day.units), how: t(`o.weigh.${weight.how}`).toLowerCase(), on: on(weight.on),
          n: weight.age_d,
        })
      : worked_g
        ? t("vet.weight.guess", { g: heavy(worked_g, day.units) })
        : t("vet.weight.unknown"),
    kiddings > 0 && t("vet.kiddings", { n: kiddings }),
    f["had_toxemia"] === true && t("vet.had.toxemia"),
    f["had_milk_fever"] === true && t("vet.had.milk_fever"),
    t("vet.vaccines"),
  ]);
}

function stage({ doe, carrying, due, litter_x100 }: VetPage): string[] {
  const { kidded, dried_on, check, left_on } = doe;
  const kidded_on = kidded ? dateAt(kidded.on, kidded.timed ? kidded.at : 0, session.zone) : "";
  const days =
    carrying && (carrying.low_d === carrying.high_d ? String(carrying.low_d) : `${carrying.low_d}–${carrying.high_d}`);
  return only([
    carrying &&
      t(carrying.how === "hand" ? "vet.day.hand" : "vet.day.pen", {
        days: days!, span: span(carrying.from, carrying.to, day.today),
      }),
    due && t("vet.due", { on: on(due.mid), span: span(due.early, due.late, day.today) }),
    check &&
      t("vet.check", {
        result: t(`o.result.${check.result}`).toLowerCase(), on: on(check.on),
        kids: check.kids ? t("vet.kids", { n: check.kids }) : t("vet.kids.not"),
      }),
    litter_x100 > 0 && t("vet.litter", { n: String(litter_x100 / 100) }),
    kidded &&
      t("vet.kidded", {
        on: on(kidded_on), born: kidded.born, alive: kidded.alive, n: Math.max(0, -daysTo(kidded_on)),
      }),
    dried_on && t("vet.dried", { on: on(dried_on) }),
    left_on && t("doe.left", { on: on(left_on) }),
  ]);
}

const daysTo = (date: string) => Math.round((Date.parse(date) - Date.parse(day.today)) / 86_400_000);

function lately({ doe, last_clean }: VetPage): string[] {
  return only([
    pushing.at > 0 &&
      pushing.doe === doe.id &&
      t(pushing.kid ? "vet.since_kid" : "vet.pushing", { at: day.when(pushing.at), n: minutes(pushing.at, day.now) }),
    last_clean && t("vet.clean", { on: on(last_clean.on), slot: slotName(last_clean.slot) }),
  ]);
}

function happening({ kind, on: date, at, slot, author, data }: Happening): string {
  const said = spoken({ kind, data, slot: slot, subject: "" });
  const absent = (data["absent"] as string[] | undefined) ?? [];
  const more =
    kind === "intake"
      ? data["feed"] && feed(String(data["feed"]))
      : absent.length
        ? t("vet.absent", { list: absent.map((code) => t(`sign.${code}`)).join("; ") })
        : kind === "checkup"
          ? ""
          : details(data);
  const when = `${on(dateAt(date, at, session.zone))}${at ? ` ${day.clock(at)}` : ""}`;
  const by = author ? ` (${session.farm!.nameOf(author) || t("someone")})` : "";
  return `${when}: ${joined([said, more])}${by}`;
}

const ANSWERS = ["new_feed", "water_bad", "bullied", "suspect", "left", "passes", "strains"];

/** What was looked at besides the readings; what nobody looked at is left out. */
function details(data: Happening["data"]): string {
  return ANSWERS.filter((key) => data[key]).map((key) => t(`vet.seen.${key}.${String(data[key])}`)).join(", ");
}

function given({ treatments, freeze }: VetPage): string[] {
  const held = (key: string, until: string) => until >= day.today && t(`vet.held.${key}`, { on: on(until) });
  const told = ({ on: date, product, why, told, who, milk_until, meat_until }: VetPage["treatments"][number]) => {
    const holds = [held("milk", milk_until), held("meat", meat_until)];
    return `${on(date)}: ${joined([product, why, told, t(`vet.by.${who}`), ...holds])}`;
  };
  return only([
    ...treatments.map(told),
    freeze && t(freeze.grain_out ? "r.freeze_out" : "r.freeze", { date: on(freeze.until) }),
  ]);
}

function change({ on: date, what, id, slots, own, from_g, to_g }: Change): string {
  if (what === "pen")
    return `${on(date)}: ${t("vet.change.pen", { pen: nameOf(day.view.pens[id]) || t("doe.no_pen") })}`;
  if (what === "bag") return `${on(date)}: ${t("vet.change.bag", { feed: feed(id) })}`;
  const args = {
    feed: feed(id), slot: slots.map(slotName).join(", "), from: amount(from_g, day.units),
    to: amount(to_g, day.units),
  };
  return `${on(date)}: ${t(own ? "vet.change.own" : "vet.change.shared", args)}`;
}

function week({ from, to, days, fed_days, twice, lines }: Week): string {
  const fed = lines.map(({ feed: id, own, offered_g, left_g }) =>
    joined([
      `${feed(id)} ${amount(offered_g, day.units)}`, !own && t("vet.fed.share"),
      left_g > 0 && t("vet.fed.left", { g: amount(left_g, day.units) }),
    ]),
  );
  const known = fed_days < days && t("vet.fed.days", { n: fed_days, of: days });
  return `${span(from, to, day.today)}: ${only([...fed, known, twice && t("vet.fed.twice")]).join("; ")}`;
}

function body({ scores, weights }: VetPage): string[] {
  return only([
    scores.length && t("vet.scores", { list: scores.map(([date, x100]) => `${on(date)} ${score(x100)}`).join(", ") }),
    weights.length &&
      t("vet.weights", {
        list: weights
          .map(([date, g, how]) => `${on(date)} ${heavy(g, day.units)} ${t(`o.weigh.${how}`).toLowerCase()}`)
          .join(", "),
      }),
  ]);
}
