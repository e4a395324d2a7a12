/** Pages of a doe and of the farm on which something is read, and not only written down. */
<<<<<<< HEAD
const OF_DOE = ["", "vet", "off", "kids", "pictures", "records", "why", "dry", "close_up", "fresh"];
=======
const OF_DOE = ["", "vet", "off", "kids", "night", "pictures", "records", "why"];
>>>>>>> f7104116 (Her night by thumb: a clock, a line for each kid with its own record, looks at the dam; kids that live on, and the milk of all on one screen)
const OF_FARM_WRITES = ["order", "doe", "weather"];
const FORMS = ["new", "mineral", "sprouts", "water", "lab", "flake", "bale", "weigh"];
const WRITES = ["pen", "ration", "shelf", "setup", "shared", "milk"];

/** Whether a page, by its address, has nothing for somebody who writes nothing down. */
export function onlyWrites([place = "", id = "", ...more]: string[]): boolean {
  if (place === "doe") return !OF_DOE.includes(more[0] ?? "");
  if (place === "farm" && id !== "people")
    return OF_FARM_WRITES.includes(id) || more.some((part) => FORMS.includes(part));
  if (place === "kids") return more.length > 0;
  return WRITES.includes(place);
}
