import { addDays } from "../base/days.ts";
import type { Doe, Treatment } from "../state/view.ts";
import { CARRIED_D } from "../tables/numbers.ts";

/** How long the milk and meat of a treated doe are held, as the label or the vet said. Nothing here is ours. */
export type Held = "milk" | "meat";

export interface Hold {
  of: Held;
  until: string;
  products: string[];
}

const KEY = { milk: "milk_until", meat: "meat_until" } as const;

/** On its last day a hold still stands. The latest of several counts, and all that hold are named. */
export function hold(doe: Doe, of: Held, today: string): Hold | null {
  const holding = doe.treatments.filter((one) => one[KEY[of]] >= today && one[KEY[of]] !== "");
  if (holding.length === 0 || doe.left_on !== "") return null;
  const until = holding.map((one) => one[KEY[of]]).sort().at(-1)!;
  return { of, until, products: [...new Set(holding.map(({ product }) => product))] };
}

export function holds(doe: Doe, today: string): Hold[] {
  return (["milk", "meat"] as const).flatMap((of) => hold(doe, of, today) ?? []);
}

/** Her treatments of late that carry a mineral, oldest first. */
export function carrying(doe: Doe, mineral: string, today: string): Treatment[] {
  const since = addDays(today, -CARRIED_D);
  return doe.treatments.filter(({ on, carries }) => carries.includes(mineral) && on >= since);
}
