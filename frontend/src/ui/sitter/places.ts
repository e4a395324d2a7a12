import { DOORS } from "../joining/doors.ts";

const OPEN = ["", "emergency", "barn_card", "pen", "pending", "who", "farms", ...DOORS];
const NOT_OF_DOE = [
  "why", "edit", "records", "wont_eat", "bred", "preg_check", "moved", "left_herd", "dried_off", "back",
];

/** What whoever looks after the farm for some days gets to: what is tapped in the barn, and this phone. */
export function isOpen([place = "", id = "", more = ""]: string[]): boolean {
  if (place === "doe") return !NOT_OF_DOE.includes(more);
  if (place === "farm") return id === "me" || id === "leave" || (id === "people" && more === "leave");
  return OPEN.includes(place);
}
