import { table } from "../events/values.ts";
import type { View } from "./view.ts";

/** A farm of which nothing was recorded yet. */
export function empty(voided: Record<string, string> = {}): View {
  return {
    does: table(), pens: table(), feeds: table(), lots: table(), contacts: table(), shelf: table(), scoops: table(),
    jars: table(), packs: table(), kids: table(), kit: table(), own_tasks: table(),
    rules: { f: table(), stamp: table(), by: table() }, rations: table(), wishes: [], calibrations: table(),
    bags: table(), feedings: [], intakes: [], notes: [], pictures: [], voices: [], weather: [], water: [], rounds: [],
    kid_weights: [], kit_uses: [], tasks: [], hand_overs: [], questions: [], voided, parked: [], aside: [], undated: [],
  };
}
