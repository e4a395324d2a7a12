import { amount, energy, percent } from "../words/format.ts";
import { feedInfo } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { decimal, t } from "../words/text.ts";

const UG_PER_PM = 1000;

/** What is known of a feed in one line; what is not known is said, never shown as nothing. */
export function feedNote(id: string): string {
  const feed = day.feeds[id];
  const { flake_g } = feedInfo(day.view, day.feeds, id);
  const flake = flake_g ? [t("feeds.flake", { g: amount(flake_g, day.units) })] : [];
  if (!feed) return [...flake, t("feeds.waiting")].join(", ");
  const share = (key: string, ug: number | null) =>
    t(`feeds.${key}`, { value: ug === null ? t("unknown") : percentOf(ug) });
  const me = t("feeds.me", { value: feed.me_kj_kg === null ? t("unknown") : energy(feed.me_kj_kg, day.units) });
  const value = feed.dm_pm === null ? t("unknown") : percent(feed.dm_pm);
  const dm = feed.dm_of ? t("feeds.dm.of", { value, feed: nameOfFeed(feed.dm_of) }) : t("feeds.dm", { value });
  return [...flake, dm, me, share("cp", feed.cp_ug_g), share("ca", feed.ca_ug_g)].join(", ");
}

const nameOfFeed = (id: string) => feedInfo(day.view, day.feeds, id).name;
const percentOf = (ug: number) => `${decimal(ug / UG_PER_PM / 10, ug < 10 * UG_PER_PM ? 2 : 1)} %`;
