/** Pages of a doe and of the farm on which something is read, and not only written down. */
const OF_DOE = [
  "", "vet", "off", "kids", "night", "pictures", "records", "why", "dry", "close_up", "fresh", "back",
];
const OF_FARM_WRITES = ["order", "doe", "weather"];
const FORMS = ["new", "mineral", "sprouts", "water", "lab", "flake", "bale", "weigh", "count"];
const WRITES = ["pen", "ration", "shelf", "setup", "shared", "milk"];

/** Whether a page, by its address, has nothing for somebody who writes nothing down. */
export function onlyWrites([place = "", id = "", ...more]: string[]): boolean {
  if (place === "doe") return !OF_DOE.includes(more[0] ?? "");
  // whoever records nothing has no clock of hers to be told of
  if (place === "farm" && id === "me") return more[0] === "notices";
  if (place === "farm" && id !== "people")
    return OF_FARM_WRITES.includes(id) || more.some((part) => FORMS.includes(part));
  if (place === "year") return id === "own" && more.length > 0;
  if (place === "kids") return more.length > 0;
  return WRITES.includes(place);
}
