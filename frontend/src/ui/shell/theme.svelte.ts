/** Day, night, or as the phone is set. public/theme.js does the same before the first paint. */
export const THEMES = ["auto", "day", "night"] as const;
export type Theme = (typeof THEMES)[number];

const KEY = "mangerline.theme";
const GROUNDS = { day: "#fbf7ee", night: "#000000" };
const dark = matchMedia("(prefers-color-scheme: dark)");

export const theme = $state({ chosen: read(), night: false });

export function setTheme(chosen: Theme): void {
  localStorage.setItem(KEY, chosen);
  theme.chosen = chosen;
  paint();
}

function read(): Theme {
  const kept = localStorage.getItem(KEY) as Theme | null;
  return kept && THEMES.includes(kept) ? kept : "auto";
}

function paint(): void {
  theme.night = theme.chosen === "night" || (theme.chosen === "auto" && dark.matches);
  const name = theme.night ? "night" : "day";
  document.documentElement.dataset["theme"] = name;
  document.querySelector('meta[name="theme-color"]')?.setAttribute("content", GROUNDS[name]);
}

dark.addEventListener("change", paint);
paint();
