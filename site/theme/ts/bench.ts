// The bench: hands long questions to a worker. A newer question stops the one at
// hand, and so does the reader.
import { load, type Lines } from "./desk";

declare const WORK_TEXT: string;
declare const WORK_NAME: string;

export class Bench {
  private worker?: Worker;
  private drop?: (why: Error) => void;

  /** From disk a worker cannot be started by address; from its own text it can. */
  private async start(): Promise<Worker> {
    const { code, tables } = await load();
    const address =
      location.protocol === "file:"
        ? URL.createObjectURL(new Blob([WORK_TEXT], { type: "text/javascript" }))
        : document.documentElement.dataset.root + WORK_NAME;
    const w = new Worker(address);
    w.postMessage({ code, tables });
    return w;
  }

  private asked = 0;

  /** A newer question waits a moment for the one at hand: most are answered soon,
   * and starting another worker is dear. */
  async ask(lines: Lines): Promise<Map<string, string>> {
    const mine = ++this.asked;
    for (let waited = 0; this.drop && waited < 600; waited += 20) {
      await new Promise((next) => setTimeout(next, 20));
      if (mine !== this.asked) throw new Error("a newer question");
    }
    this.stop("a newer question");
    const w = (this.worker ??= await this.start());
    if (mine !== this.asked) throw new Error("a newer question");
    return new Promise((done, failed) => {
      this.drop = failed;
      w.onmessage = (e: MessageEvent<{ reply?: Map<string, string>; fault?: string }>) => {
        this.drop = undefined;
        if (e.data.reply) done(e.data.reply);
        else {
          this.end();
          failed(new Error(e.data.fault));
        }
      };
      w.onerror = (e) => {
        this.end();
        failed(new Error(e.message || "the worker cannot run here"));
      };
      w.postMessage({ lines });
    });
  }

  private end(): void {
    this.worker?.terminate();
    this.worker = undefined;
    this.drop = undefined;
  }

  /** Ends what is at hand; the next question starts another worker. */
  stop(why: string): void {
    if (!this.drop) return;
    const drop = this.drop;
    this.end();
    drop(new Error(why));
  }
}

/** Carries a text away as a file. */
export function carry(name: string, text: string): void {
  const a = document.createElement("a");
  a.href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(a.href), 10_000);
}
