import { fileURLToPath } from "node:url";
import { createServer } from "vite";

const root = fileURLToPath(new URL("../..", import.meta.url));
const STAND_IN = `${root}/tests/support/aloud_day.ts`;

/** The day is the one that is read, not the phone's own. */
const standIn = {
  name: "stand-in",
  enforce: "pre",
  resolveId: (id, from = "") =>
    /(^|\/)(day\.svelte|session\.svelte|record)\.ts$/.test(id) && /\/model\//.test(id + from) ? STAND_IN : null,
};

/** One of the client's modules, read beside the stand-in. */
export async function served(path, read) {
  const server = await createServer({
    root, configFile: false, plugins: [standIn], appType: "custom", logLevel: "error", define: { __APP_VERSION__: "0" },
    server: { middlewareMode: true, hmr: false, ws: false, watch: null }, optimizeDeps: { noDiscovery: true },
  });
  read(await server.ssrLoadModule(path));
  await server.close();
}
