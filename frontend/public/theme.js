// Runs before the first paint, so that no screen flashes white in a dark barn. src/ui/shell/theme.svelte.ts takes over later.
(() => {
  const kept = localStorage.getItem("mangerline.theme");
  const night = kept === "night" || (kept !== "day" && matchMedia("(prefers-color-scheme: dark)").matches);
  document.documentElement.dataset.theme = night ? "night" : "day";
  document.documentElement.classList.toggle("glove", localStorage.getItem("mangerline.glove") === "on");
  document.documentElement.style.backgroundColor = night ? "#000000" : "#fbf7ee";
})();
