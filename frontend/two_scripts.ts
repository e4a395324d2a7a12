import type { Plugin, Rolldown } from "vite";

/** Whatever the app's start imports, straight or by way of others. */
const first = new Set<string>();

/**
 * Two scripts: the start with all it imports, and everything behind an `import()`. Each asks for the other by a name
 * made from its content, so neither ever runs beside one of another build. Classic scripts and no modules: engines
 * keep the compiled code of those that a service worker hands out, and a module is compiled anew at each opening.
 */
export const output = {
  format: "cjs",
  entryFileNames: "assets/[name]-[hash:8].js",
  chunkFileNames: "assets/[name]-[hash:8].js",
  codeSplitting: {
    includeDependenciesRecursively: false,
    groups: [{ name: (id: string) => (first.has(id) ? "first" : "second"), debugName: "second" }],
  },
} satisfies Rolldown.OutputOptions;

const PRELOAD = "\0vite/preload-helper.js";
const PLAIN = "export const __vitePreload = (fetch) => fetch();";

export function twoScripts(): Plugin {
  return {
    name: "two-scripts",
    // Vite's own way to fetch a script is one for modules.
    load: { order: "pre", handler: (id) => (id === PRELOAD ? PLAIN : null) },
    buildEnd() {
      const reach = (id: string): void => {
        if (first.has(id)) return;
        first.add(id);
        this.getModuleInfo(id)?.importedIds.forEach(reach);
      };
      for (const id of this.getModuleIds()) if (this.getModuleInfo(id)?.isEntry) reach(id);
    },
    generateBundle(_, bundle) {
      for (const script of Object.values(bundle)) {
        if (script.type !== "chunk") continue;
        if (script.isEntry && script.imports.length) this.error("the first script leans on the second");
        script.code = classic(script);
      }
    },
    transformIndexHtml: (html) => html.replace('type="module" crossorigin', "defer"),
    augmentChunkHash: () => String(loader),
  };
}

const nameOf = (fileName: string) => `./${fileName.split("/").at(-1)}`;

/** `require` gives the second script a promise of itself the first, which holds what `window.mangerline` keeps. */
function classic({ isEntry, fileName, code }: Rolldown.OutputChunk): string {
  const name = JSON.stringify(nameOf(fileName));
  return isEntry
    ? `(function(exports,require){${code}})(...(${loader})(${name}));`
    : `mangerline(${name},(function(exports,require){${code}}));`;
}

type Script = (exports: object, require: (name: string) => object) => void;

/** Runs in the browser, as text: it may use nothing from around it. */
function loader(self: string): [exports: object, require: (name: string) => Promise<object>] {
  const base = (document.currentScript as HTMLScriptElement).src;
  const scripts: Record<string, object> = { [self]: {} };
  const asked: Record<string, Promise<object>> = {};
  function fetched(name: string): Promise<object> {
    return new Promise((done, fail) => {
      const script = document.createElement("script");
      script.src = new URL(name, base).href;
      script.onload = script.onerror = () => {
        if (scripts[name]) return done(scripts[name]);
        delete asked[name];
        script.remove();
        fail(new Error(`${name} is not to be had`));
      };
      document.head.append(script);
    });
  }
  const page = window as unknown as { mangerline: (name: string, run: Script) => void };
  page.mangerline = (name, run) => {
    const exports = {};
    run(exports, (of) => {
      if (!scripts[of]) throw new Error(`${name} belongs to another build`);
      return scripts[of];
    });
    scripts[name] = exports;
  };
  return [scripts[self]!, (name) => (asked[name] ??= fetched(name))];
}
