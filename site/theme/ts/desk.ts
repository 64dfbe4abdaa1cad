// The desk: brings the calculators and their tables into the page, and one
// instance of them, made anew when it stops.
import { Instance, type Lines } from "./instance";

export type { Lines };

declare global {
  interface Window {
    kerfbookWasm?: string;
    kerfbookBook?: string;
  }
}

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

/** The one file holds its sheets packed; they are set into the page first. */
export async function sheets(): Promise<void> {
  const held = inPage("kerfbook-sheets");
  if (held) document.querySelector("article.sheet")?.insertAdjacentHTML("afterend", new TextDecoder().decode(await unpack(held)));
}

export type Parts = { code: WebAssembly.Module; tables: string };
let parts: Promise<Parts> | undefined;

/** Loads the program and its tables once for the page and its worker. */
export const load = (): Promise<Parts> =>
  (parts ??= Promise.all([module(), book()]).then(([code, tables]) => ({ code, tables })));

export class Desk {
  private constructor(private running: Instance) {}

  static async open(): Promise<Desk> {
    const { code, tables } = await load();
    const d = new Desk(new Instance(code, tables));
    await d.start();
    return d;
  }

  start = (): Promise<void> => this.running.start();
  ask = (lines: Lines): Map<string, string> => this.running.ask(lines);
}
