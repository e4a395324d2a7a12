import { calendar } from "../words/format.ts";
import { nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { t } from "../words/text.ts";

export interface Given {
  id: string;
  doe: string;
  name: string;
  product: string;
  lines: string[];
  voided: boolean;
}

/** Every treatment there was, newest first, what was taken back included. */
export function given(doe = ""): Given[] {
  const { voided, does } = day.view;
  return session.events(({ kind, subject }) => kind === "treatment" && (!doe || subject === doe))
    .sort((a, b) => b.happened - a.happened || (a.hlc < b.hlc ? 1 : -1))
    .map(({ id, subject, on, author, data }) => {
      const get = (key: string) => String(data[key] ?? "");
      const until = (key: string) => get(key) && t(`treat.${key}`, { on: calendar(get(key), day.today) });
      const lines = [
        t("treat.by", { on: calendar(on, day.today), who: session.who(author), said: t(`o.who.${get("who")}`) }),
        get("told"), get("why"), until("milk_until"), until("meat_until"),
      ];
      return {
        id, doe: subject, name: nameOf(does[subject]), product: get("product"), lines: lines.filter(Boolean),
        voided: id in voided,
      };
    });
}
