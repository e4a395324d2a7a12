import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createServer } from "vite";

/** Prints what farms were told, as `python -m tests.support.read_aloud` wrote it down. */
const root = fileURLToPath(new URL("../..", import.meta.url));
const STAND_IN = `${root}/tests/support/aloud_day.ts`;

/** The day is the one that is read, not the phone's own. */
const standIn = {
  name: "stand-in",
  enforce: "pre",
  resolveId: (id, from = "") =>
    /(^|\/)(day\.svelte|session\.svelte|record)\.ts$/.test(id) && /\/model\//.test(id + from) ? STAND_IN : null,
};
const server = await createServer({
  root, configFile: false, plugins: [standIn], appType: "custom", logLevel: "error", define: { __APP_VERSION__: "0" },
  server: { middlewareMode: true, hmr: false, ws: false, watch: null }, optimizeDeps: { noDiscovery: true },
});
const { read_aloud } = await server.ssrLoadModule("/tests/support/aloud.ts");
process.stdout.write(`${read_aloud(JSON.parse(readFileSync(process.argv[2], "utf8"))).join("\n")}\n`);
await server.close();
