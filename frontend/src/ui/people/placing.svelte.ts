import type { Pack } from "../../core/barn/packs.ts";
import { days_to_follow, type Stay } from "../../core/barn/stays.ts";
import { account, Asking } from "../model/account.svelte.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { carriers } from "./carriers.ts";

/** One for all pages that say where place and pack are apart: what was begun when a pack was saved goes on there. */
export const placing = new Asking();

/** Other days for somebody's place; and this phone hears of it at once. */
export function give(person: string, days: Stay): Promise<unknown> {
  const { farm, farmId } = session;
  return placing.ask(async () => {
    const heard = await account.changeMember(farmId, person, days);
    if (heard.ok) await farm?.sync();
    return heard;
  });
}

/** Whoever goes by the pack is on the farm as long as it says now. What cannot be asked for is said on its page. */
export async function follow(was: Pack, now: Pick<Pack, "from_on" | "to_on">): Promise<void> {
  for (const person of session.role === "owner" ? carriers(was.id) : []) {
    const days = days_to_follow(was, now, person, day.today);
    if (Object.keys(days).length && !(await give(person.id, days))) return;
  }
}
