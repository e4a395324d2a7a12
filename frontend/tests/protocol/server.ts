import { spawn, type ChildProcess } from "node:child_process";
import { existsSync, mkdtempSync, openSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface, type Interface } from "node:readline";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
/** A process that is killed loses nothing of what it wrote there, and nobody waits for a disk. */
const MEMORY = "/dev/shm";
const TODAYS = "herd.wsgi:application";
const START_MS = 60_000;
const HAND = "import django; django.setup(); from tests.support.protocol_control import main; main()";

function python(): string {
  const venv = join(ROOT, ".venv/bin/python");
  return process.env["MANGERLINE_PYTHON"] ?? (existsSync(venv) ? venv : "python3");
}

/** The real server in a process of its own, on data of its own, and a hand behind it. */
export class Server {
  readonly folder = mkdtempSync(join(existsSync(MEMORY) ? MEMORY : tmpdir(), "mangerline-protocol-"));
  readonly #env: NodeJS.ProcessEnv;
  readonly #application: string;
  #port = 0;
  #server: ChildProcess | null = null;
  #control: ChildProcess | null = null;
  #lines: AsyncIterator<string> | null = null;

  constructor(application = TODAYS) {
    this.#application = application;
    const own = {
      DJANGO_SETTINGS_MODULE: "herd.settings", MANGERLINE_DATA: this.folder, PYTHONPATH: ROOT,
      MANGERLINE_LOG: "WARNING",
    };
    this.#env = { ...process.env, ...own };
    delete this.#env["DATABASE_URL"];
  }

  get url(): string {
    return `http://127.0.0.1:${this.#port}`;
  }

  async open(): Promise<this> {
    this.#port = await freePort();
    await this.#run(["manage.py", "migrate", "--verbosity", "0"]);
    await this.start();
    this.#control = spawn(python(), ["-c", HAND], { cwd: ROOT, env: this.#env, stdio: ["pipe", "pipe", "inherit"] });
    const lines: Interface = createInterface({ input: this.#control.stdout! });
    this.#lines = lines[Symbol.asyncIterator]();
    return this;
  }

  /** As today's build, or as a newer one would serve. */
  async start(application = this.#application): Promise<void> {
    const log = openSync(join(this.folder, "server.log"), "a");
    const pool = ["--worker-class", "gthread", "--workers", "1", "--threads", "4", "--no-control-socket"];
    const command = ["-m", "gunicorn", application, "--bind", `127.0.0.1:${this.#port}`, ...pool];
    // A group of its own: killing it also takes the worker that holds the port.
    this.#server = spawn(python(), command, { cwd: ROOT, env: this.#env, stdio: ["ignore", log, log], detached: true });
    await this.#untilUp();
  }

  /** As a power cut would end it: whatever was under way is gone. */
  async kill(): Promise<void> {
    const server = this.#server;
    if (!server?.pid || server.exitCode !== null) return;
    const gone = new Promise((resolve) => server.once("exit", resolve));
    process.kill(-server.pid, "SIGKILL");
    await gone;
    this.#server = null;
  }

  async ask<T>(name: string, given: Record<string, unknown> = {}): Promise<T> {
    this.#control!.stdin!.write(`${JSON.stringify([name, given])}\n`);
    const { value } = await this.#lines!.next();
    const answer = JSON.parse(String(value)) as { ok?: T; error?: string };
    if (answer.error) throw new Error(`${name}: ${answer.error}`);
    return answer.ok as T;
  }

  /** Today's build with one thing wrong: only a server of planted_server.py looks at it. */
  plant(bug: string): void {
    writeFileSync(join(this.folder, "planted"), bug);
  }

  async close(): Promise<void> {
    this.#control?.stdin?.end();
    await this.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }

  get log(): string {
    return readFileSync(join(this.folder, "server.log"), "utf8");
  }

  async #untilUp(): Promise<void> {
    const until = Date.now() + START_MS;
    while (Date.now() < until) {
      const up = await fetch(`${this.url}/healthz`).then((reply) => reply.ok, () => false);
      if (up) return;
      await new Promise((next) => setTimeout(next, 50));
    }
    throw new Error(`the server did not start:\n${this.log.slice(-3000)}`);
  }

  async #run(command: string[]): Promise<void> {
    const child = spawn(python(), command, { cwd: ROOT, env: this.#env, stdio: "inherit" });
    const code = await new Promise((resolve) => child.once("exit", resolve));
    if (code !== 0) throw new Error(`${command.join(" ")} ended with ${String(code)}`);
  }
}

async function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const address = probe.address();
      probe.close(() =>
        typeof address === "object" && address ? resolve(address.port) : reject(new Error("no port")),
      );
    });
  });
}
