// The bench: hands long questions to a worker. A newer question stops the one at
// hand, and so does the reader.
import { load, type Lines } from "./desk";

declare const WORK_TEXT: string;
declare const WORK_NAME: string;

export class Bench {
  private worker?: Promise<Worker>;
  private drop?: (why: Error) => void;
  private asked = 0;

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

  /** A newer question waits a moment for the one at hand: most are answered soon,
   * and starting another worker is dear. */
  async ask(lines: Lines): Promise<Map<string, string>> {
    const mine = ++this.asked;
    const wanted = () => {
      if (mine !== this.asked) throw new Error("a newer question");
    };
    for (let waited = 0; this.drop && waited < 600; waited += 20) {
      await new Promise((next) => setTimeout(next, 20));
      wanted();
    }
    this.end();
    const started = (this.worker ??= this.start());
    const w = await started.catch((e: Error) => {
      this.worker = undefined;
      throw new Error("The calculators cannot run here: " + e.message + ".");
    });
    wanted();
    return new Promise((done, failed) => {
      this.drop = failed;
      const fault = (why: string) => {
        this.end();
        failed(new Error("The calculator stopped; the next question starts it again: " + why + "."));
      };
      w.onmessage = (e: MessageEvent<{ reply?: Map<string, string>; fault?: string }>) => {
        if (!e.data.reply) return fault(e.data.fault ?? "it did not say why");
        this.drop = undefined;
        done(e.data.reply);
      };
      w.onerror = (e) => fault(e.message || "the worker cannot run here");
      w.postMessage({ lines });
    });
  }

  /** Ends what is at hand; a worker that is still being started is kept. */
  private end(): void {
    const drop = this.drop;
    if (!drop) return;
    void this.worker?.then((w) => w.terminate());
    this.worker = this.drop = undefined;
    drop(new Error("a newer question"));
  }

  /** Nothing is wanted any more; the next question starts another worker. */
  stop(): void {
    this.asked++;
    this.end();
  }
}

/** Questions that are answered apart from the answer on the page, one after the
 * other and none dropped. Their worker is not that of a long answer. */
export class Clerk {
  private bench = new Bench();
  private last: Promise<unknown> = Promise.resolve();

  ask(lines: Lines): Promise<Map<string, string>> {
    const mine = this.last.then(() => this.bench.ask(lines));
    this.last = mine.catch(() => undefined);
    return mine;
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
