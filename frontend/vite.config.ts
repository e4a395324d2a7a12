import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";
import { VitePWA } from "vite-plugin-pwa";
import packageJson from "./package.json" with { type: "json" };
import { output, twoScripts } from "./two_scripts.ts";

const MANIFEST = {
  id: "/",
  name: "Mangerline",
  short_name: "Mangerline",
  description: "What each doe should get today, in the barn, without a signal.",
  lang: "en",
  start_url: "/",
  scope: "/",
  display: "standalone" as const,
  orientation: "any" as const,
  share_target: {
    action: "/share",
    method: "POST" as const,
    enctype: "multipart/form-data",
    params: { files: [{ name: "picture", accept: ["image/*"] }] },
  },
  shortcuts: [
    { name: "Chores", url: "/#/" },
    { name: "Emergency", url: "/#/emergency" },
    { name: "Does", url: "/#/does" },
  ],
  icons: [
    { src: "icons/icon-192.png", sizes: "192x192", type: "image/png", purpose: "any" },
    { src: "icons/icon-512.png", sizes: "512x512", type: "image/png", purpose: "any" },
    { src: "icons/maskable-512.png", sizes: "512x512", type: "image/png", purpose: "maskable" },
  ],
};

/** The splash has the ground of the theme, lest it flash in a dark barn: public/theme.js asks for the right one. */
const GROUNDS = { "manifest.webmanifest": "#fbf7ee", "night.webmanifest": "#000000" };

function manifests(): Plugin {
  return {
    name: "manifests",
    generateBundle() {
      for (const [fileName, ground] of Object.entries(GROUNDS)) {
        const source = JSON.stringify({ ...MANIFEST, background_color: ground, theme_color: ground });
        this.emitFile({ type: "asset", fileName, source });
      }
    },
  };
}

export default defineConfig({
  plugins: [
    svelte({ compilerOptions: { runes: true, discloseVersion: false } }), twoScripts(), manifests(), pwa(),
  ],
  define: { __APP_VERSION__: JSON.stringify(packageJson.version) },
  build: {
    outDir: process.env["MANGERLINE_CLIENT_OUT"] ?? "../herd/client_dist",
    emptyOutDir: true,
    target: ["es2022", "safari16.4"],
    modulePreload: false,
    cssCodeSplit: false,
    assetsInlineLimit: 0,
    rollupOptions: {
      output: {
        ...output,
        assetFileNames: "assets/[name]-[hash:8][extname]",
      },
    },
  },
});

function pwa() {
  return VitePWA({
    strategies: "injectManifest",
    srcDir: "src",
    filename: "sw.ts",
    injectRegister: false,
    registerType: "prompt",
    includeManifestIcons: false,
    injectManifest: {
      globPatterns: ["index.html", "theme.js", "assets/*.{js,css,json}", "icons/*.{svg,png}", "data/*.json"],
    },
    manifest: false,
  });
}
