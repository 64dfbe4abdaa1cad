// One running instance of the calculators, in the page or in a worker.
import { imports, type Reactor } from "./wasi";

export type Lines = [string, string][];

const codes: Record<string, string> = { "\\": "\\\\", "\t": "\\t", "\n": "\\n" };

export const encode = (lines: Lines): string =>
  lines.map((l) => l.map((x) => x.replace(/[\\\t\n]/g, (c) => codes[c])).join("\t") + "\n").join("");

export const decode = (text: string): Map<string, string> => {
  const plain = (x: string) => x.replace(/\\([\\tn])/g, (_m, c: string) => (c === "t" ? "\t" : c === "n" ? "\n" : "\\"));
  const out = new Map<string, string>();
  for (const line of text.split("\n")) {
    if (line === "") continue;
    const cut = line.indexOf("\t");
    out.set(plain(cut < 0 ? line : line.slice(0, cut)), cut < 0 ? "" : plain(line.slice(cut + 1)));
  }
  return out;
};

export class Instance {
  private run?: Reactor;
  private said: string[] = [];

  constructor(private code: WebAssembly.Module, private tables: string) {}

  /** Makes a new instance and gives it the book. */
  async start(): Promise<void> {
    this.said = [];
    let memory: WebAssembly.Memory;
    const made = await WebAssembly.instantiate(this.code, imports(() => memory, this.said));
    const run = made.exports as unknown as Reactor;
    memory = run.memory;
    run._initialize();
    this.run = run;
    const reply = this.ask([["book", ""], ["book", this.tables]]);
    const fault = reply.get("error");
    if (fault !== undefined) throw new Error(fault);
  }

  /** Asks once. A trap throws the instance away; the caller starts another. */
  ask(lines: Lines): Map<string, string> {
    const run = this.run;
    if (!run) throw new Error("the calculators are not running");
    try {
      const text = new TextEncoder().encode(encode(lines));
      const room = run.buf(text.length); // first: making room may move the memory
      new Uint8Array(run.memory.buffer).set(text, room);
      const n = run.ask(text.length);
      const at = run.buf(0);
      return decode(new TextDecoder().decode(new Uint8Array(run.memory.buffer, at, n).slice()));
    } catch (e) {
      this.run = undefined;
      const last = this.said.join("").split("\n")[0];
      throw new Error(last || String(e));
    }
  }
}
