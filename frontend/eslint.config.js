import svelte from "eslint-plugin-svelte";
import { defineConfig } from "eslint/config";
import ts from "typescript-eslint";

/** The outline of a drawing and the sentence that names a test stand in one line, however long. */
const PATHS_AND_TITLES = '^\\s*"M\\d|^test\\(';

/** The direction of imports and their cycles are held by tests/rules/test_client_imports.py. */
export default defineConfig(
  { ignores: ["node_modules/", "public/", "src/core/tables/"] },
  ts.configs.recommended,
  svelte.configs.recommended,
  { files: ["**/*.svelte", "**/*.svelte.ts"], languageOptions: { parserOptions: { parser: ts.parser } } },
  {
    rules: {
      "complexity": ["error", { max: 15, variant: "modified" }],
      "max-depth": ["error", 3],
      "max-len": ["error", { code: 120, ignorePattern: PATHS_AND_TITLES }],
      "max-lines-per-function": ["error", 30],
      "max-params": ["error", 6],
      "@typescript-eslint/no-unused-vars": [
        "error",
        {
          argsIgnorePattern: "^_", varsIgnorePattern: "^_", destructuredArrayIgnorePattern: "^_",
          ignoreRestSiblings: true,
        },
      ],
      // A space between two parts that must not depend on how the markup is broken into lines.
      "svelte/no-useless-mustaches": "off",
      // These maps hold a signal a name; they are no signal themselves.
      "svelte/prefer-svelte-reactivity": "off",
    },
  },
  {
    files: ["**/*.ts"],
    ignores: ["**/*.svelte.ts"],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      "@typescript-eslint/await-thenable": "error",
      "@typescript-eslint/no-floating-promises": "error",
      "@typescript-eslint/no-misused-promises": "error",
      "@typescript-eslint/no-unnecessary-type-assertion": "error",
      "@typescript-eslint/switch-exhaustiveness-check": "error",
    },
  },
);
