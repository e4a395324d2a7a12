/** What the second script draws: every screen but the first. */
export { default as Ate } from "./ui/chores/Ate.svelte";
export { default as Doors } from "./ui/joining/Doors.svelte";
export { default as DoeList } from "./ui/farm/DoeList.svelte";
export { default as Farms } from "./ui/start/Farms.svelte";
export { default as FirstRound } from "./ui/chores/FirstRound.svelte";
export { default as Many } from "./ui/farm/Many.svelte";
export { default as Pictures } from "./ui/media/Sending.svelte";
export { default as Screens } from "./Screens.svelte";
export { default as Ways } from "./ui/joining/Ways.svelte";
