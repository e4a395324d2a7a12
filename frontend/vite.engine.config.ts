import { defineConfig } from "vite";

/** The evaluator alone, for the server: one script without a page. Not minified, so that an error names its place. */
export default defineConfig({
  publicDir: false,
  build: {
    target: "es2022",
    minify: false,
    lib: { entry: "src/engine.ts", formats: ["iife"], name: "evaluator", fileName: () => "evaluator.js" },
  },
});
