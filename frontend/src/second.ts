/** What the second script draws: every screen but the first. */
export { default as AskWhen } from "./ui/questions/AskWhen.svelte";
export { default as Ate } from "./ui/chores/Ate.svelte";
export { default as DoeList } from "./ui/farm/DoeList.svelte";
export { default as FirstRound } from "./ui/chores/FirstRound.svelte";
export { default as Many } from "./ui/farm/Many.svelte";
export { isOutside } from "./ui/start/outside.ts";
export { default as Outside } from "./ui/start/Outside.svelte";
export { default as Notices } from "./ui/start/Notices.svelte";
export { default as Sitter } from "./ui/sitter/Sitter.svelte";
export { default as Pictures } from "./ui/media/Sending.svelte";
export { default as Screens } from "./Screens.svelte";
export { default as Ways } from "./ui/joining/Ways.svelte";
