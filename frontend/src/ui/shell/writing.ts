/** Pages of a doe and of the farm on which something is read, and not only written down. */
const OF_DOE = ["", "vet", "off", "kids", "pictures", "records", "why", "back"];
const OF_FARM_WRITES = ["order", "doe", "weather"];
const FORMS = ["new", "mineral", "sprouts", "water", "lab", "flake", "bale", "weigh", "count"];
const WRITES = ["pen", "ration", "shelf", "setup", "shared"];

/** Whether a page, by its address, has nothing for somebody who writes nothing down. */
export function onlyWrites([place = "", id = "", ...more]: string[]): boolean {
  if (place === "doe") return !OF_DOE.includes(more[0] ?? "");
  if (place === "farm" && id !== "people")
    return OF_FARM_WRITES.includes(id) || more.some((part) => FORMS.includes(part));
  return WRITES.includes(place);
}
