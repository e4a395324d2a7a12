import { t } from "../words/text.ts";

// The first that fits: what runs on an iPad or on Android names other things besides.
const DEVICES: [RegExp, string][] = [
  [/iPhone/, "iPhone"], [/iPad/, "iPad"], [/Android/, "Android"], [/Windows/, "Windows"], [/CrOS/, "Chromebook"],
  [/Macintosh|Mac OS/, "Mac"], [/Linux/, "Linux"],
];
const BROWSERS: [RegExp, string][] = [
  [/Edg/, "Edge"], [/SamsungBrowser/, "Samsung Internet"], [/Firefox|FxiOS/, "Firefox"], [/Chrome|CriOS/, "Chrome"],
  [/Safari/, "Safari"],
];
const found = (agent: string, list: [RegExp, string][]) => list.find(([one]) => one.test(agent))?.[1] ?? "";

/** "Android, Chrome": by what a browser calls itself, as far as that is known. */
export function deviceSaid(agent: string): string {
  return [found(agent, DEVICES), found(agent, BROWSERS)].filter(Boolean).join(", ") || t("places.unknown");
}
