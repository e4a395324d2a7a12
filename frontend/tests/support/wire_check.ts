/** For each text that might be core/tables/wire.ts, by name: what the compiler says of core/phone/sync with it. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";

const ROOT = join(import.meta.dirname, "../..");
const WIRE = join(ROOT, "src/core/tables/wire.ts");
const ASKED = join(ROOT, "src/core/phone/sync");

const { options } = ts.parseJsonConfigFileContent(
  ts.readConfigFile(join(ROOT, "tsconfig.json"), (file) => ts.sys.readFile(file)).config, ts.sys, ROOT);
const roots = ts.sys.readDirectory(join(ROOT, "src/core/phone/sync"), [".ts"]);
const host = ts.createCompilerHost(options);
const parse = host.getSourceFile.bind(host);
const parsed = new Map<string, ts.SourceFile | undefined>();
let program: ts.Program | undefined;

function errorsWith(text: string): string[] {
  host.getSourceFile = (file, target) => {
    if (file === WIRE) return ts.createSourceFile(file, text, target, true);
    if (!parsed.has(file)) parsed.set(file, parse(file, target));
    return parsed.get(file);
  };
  program = ts.createProgram({ rootNames: roots, options, host, ...(program && { oldProgram: program }) });
  const asked = program.getSourceFiles().filter(({ fileName }) => fileName.startsWith(ASKED) || fileName === WIRE);
  const found = asked.flatMap((file) => program!.getSemanticDiagnostics(file));
  return found.map((one) => `${one.file?.fileName ?? ""}: ${ts.flattenDiagnosticMessageText(one.messageText, " ")}`);
}

const texts = JSON.parse(readFileSync(process.argv[2]!, "utf-8")) as Record<string, string>;
console.log(JSON.stringify(Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, errorsWith(text)]))));
