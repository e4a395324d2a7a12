// Runs before the first paint, so that no screen flashes white in a dark barn. src/ui/shell/theme.svelte.ts takes over later.
(() => {
  const kept = localStorage.getItem("mangerline.theme");
  const night = kept === "night" || (kept !== "day" && matchMedia("(prefers-color-scheme: dark)").matches);
  document.documentElement.dataset.theme = night ? "night" : "day";
  document.documentElement.classList.toggle("glove", localStorage.getItem("mangerline.glove") === "on");
  const ground = night ? "#000000" : "#fbf7ee";
  document.documentElement.style.backgroundColor = ground;
  document.querySelector('meta[name="theme-color"]').content = ground;
  // Whoever installs the app, or has, gets the splash of the theme.
  if (night) document.querySelector('link[rel="manifest"]').href = "/night.webmanifest";
})();
