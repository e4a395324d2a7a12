import { t } from "../words/text.ts";
import { session } from "./session.svelte.ts";

/** Who may let a helper's ration in: the owner, by name. */
export function ownerName(): string {
  return session.farm?.people.find(({ role, gone }) => role === "owner" && !gone)?.name || t("role.owner");
}
