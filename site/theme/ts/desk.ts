// The desk: one running instance of the calculators, made anew when it stops.
import { imports, type Reactor } from "./wasi";

export type Lines = [string, string][];

declare global {
  interface Window {
    kerfbookWasm?: string;
    kerfbookBook?: string;
  }
}

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

const root = document.documentElement;
const inPage = (id: string) => (document.getElementById(id) as HTMLTemplateElement | null)?.content.textContent ?? undefined;

/** A page opened from disk cannot fetch; a script beside it can bring text. */
function bring(name: string, got: () => string | undefined): Promise<string> {
  return new Promise((done, failed) => {
    const s = document.createElement("script");
    s.src = root.dataset.root + name + ".js";
    s.onload = () => done(got() ?? "");
    s.onerror = () => failed(new Error("the file " + name + ".js is missing beside this page"));
    document.head.append(s);
  });
}

async function unpack(base64: string): Promise<ArrayBuffer> {
  const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).arrayBuffer();
}

async function module(): Promise<WebAssembly.Module> {
  const held = inPage("kerfbook-wasm");
  if (held) return WebAssembly.compile(await unpack(held));
  const name = root.dataset.wasm ?? "";
  if (location.protocol === "file:") return WebAssembly.compile(await unpack(await bring(name, () => self.kerfbookWasm)));
  const answer = await fetch(root.dataset.root + name + ".wasm");
  if (!answer.ok) throw new Error("the calculators could not be loaded");
  return WebAssembly.compile(await answer.arrayBuffer());
}

async function book(): Promise<string> {
  const held = inPage("kerfbook-book");
  if (held) return new TextDecoder().decode(await unpack(held));
  const name = root.dataset.book ?? "";
  if (location.protocol === "file:") return bring(name, () => self.kerfbookBook);
  const answer = await fetch(root.dataset.root + name + ".txt");
  if (!answer.ok) throw new Error("the tables could not be loaded");
  return answer.text();
}

export class Desk {
  private run?: Reactor;
  private said: string[] = [];

  private constructor(private code: WebAssembly.Module, private tables: string) {}

  static async open(): Promise<Desk> {
    const [code, tables] = await Promise.all([module(), book()]);
    const d = new Desk(code, tables);
    await d.start();
    return d;
  }

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
      new Uint8Array(run.memory.buffer).set(text, run.buf(text.length));
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
