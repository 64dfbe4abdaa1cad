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
export function bring(name: string, got: () => string | undefined): Promise<string> {
  return new Promise((done, failed) => {
    const s = document.createElement("script");
    s.src = root.dataset.root + name + ".js";
    s.onload = () => done(got() ?? "");
    s.onerror = () => failed(new Error("the file " + name + ".js is missing beside this page"));
    document.head.append(s);
  });
}

/** Newer browsers decode by themselves, and sooner. */
function bytes(base64: string): Uint8Array<ArrayBuffer> {
  const own = (Uint8Array as { fromBase64?: (text: string) => Uint8Array<ArrayBuffer> }).fromBase64;
  if (own) return own.call(Uint8Array, base64);
  const text = atob(base64), out = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) out[i] = text.charCodeAt(i);
  return out;
}

/** What a page carries packed, as it is decompressed. */
function unpack(base64: string, type = "text/plain"): Response {
  const plain = new Blob([bytes(base64)]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(plain, { headers: { "Content-Type": type } });
}

const wasm = "application/wasm";

/** Compiles while the bytes come; a server that does not call them wasm is waited for. */
async function compile(from: Response): Promise<WebAssembly.Module> {
  if (from.headers.get("Content-Type") === wasm && "compileStreaming" in WebAssembly) return WebAssembly.compileStreaming(from);
  return WebAssembly.compile(await from.arrayBuffer());
}

async function module(): Promise<WebAssembly.Module> {
  const held = inPage("kerfbook-wasm");
  if (held) return compile(unpack(held, wasm));
  const name = root.dataset.wasm ?? "";
  if (location.protocol === "file:") return compile(unpack(await bring(name, () => self.kerfbookWasm), wasm));
  const answer = await fetch(root.dataset.root + name + ".wasm");
  if (!answer.ok) throw new Error("the calculators could not be loaded");
  return compile(answer);
}

async function book(): Promise<string> {
  const held = inPage("kerfbook-book");
  if (held) return unpack(held).text();
  const name = root.dataset.book ?? "";
  if (location.protocol === "file:") return bring(name, () => self.kerfbookBook);
  const answer = await fetch(root.dataset.root + name + ".txt");
  if (!answer.ok) throw new Error("the tables could not be loaded");
  return answer.text();
}

/** The sheets that the one file still holds packed, each as its markup; taken once. */
export async function sheets(): Promise<string[]> {
  const place = document.getElementById("kerfbook-sheets") as HTMLTemplateElement | null;
  const held = place?.content.textContent;
  place?.remove();
  return held ? (await unpack(held).text()).split(/(?=<article class="sheet" id=)/) : [];
}

export type Parts = { code: WebAssembly.Module; tables: string };
let parts: Promise<Parts> | undefined;

/** Loads the program and its tables once for the page and its worker. */
export const load = (): Promise<Parts> =>
  (parts ??= Promise.all([module(), book()]).then(([code, tables]) => ({ code, tables })).catch((e: Error) => {
    parts = undefined; // the next question tries again
    throw e;
  }));

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

  /** Nobody types for a moment: a good one to tidy up in. */
  rest(): void {
    try {
      this.running.ask([["rest", ""]]);
    } catch {
      // the next question finds out and starts the calculators again
    }
  }
}
