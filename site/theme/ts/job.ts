// A whole job: kept as a file, opened again, carried as a link, printed. What a
// saved job holds is decided by the calculators; here it only changes its form,
// from lines to JSON and back.
import { carry, Clerk } from "./bench";
import type { Lines } from "./desk";
import { decode } from "./instance";
import type { Calculator } from "./calculator";
import { memory, setSystem } from "./store";

const root = document.documentElement;

/** "Read more" names a page of the handbook; here it gets its address. */
export function pages(el: ParentNode): void {
  for (const a of el.querySelectorAll<HTMLAnchorElement>("a[data-page]")) {
    const page = a.dataset.page ?? "";
    a.href = root.classList.contains("one-file") ? "#p-" + page.replace(/\.html$/, "").replace(/\/index$/, "").replaceAll("/", "-") : root.dataset.root + page;
  }
}

export class Job {
  private before = ""; // the job that stood here, to be taken back
  private keep: Lines = []; // lines of an opened job that this handbook does not know

  private clerk = new Clerk(); // a drawing may be large: nothing of it runs on the page's own thread

  constructor(private of: Calculator) {
    of.el.addEventListener("click", (e) => {
      const what = (e.target as HTMLElement).closest<HTMLElement>("[data-job]")?.dataset.job;
      const run = (done: Promise<void>) => void done.catch((why: Error) => this.tell("This did not work: " + why.message));
      if (what === "save") run(this.save());
      if (what === "link") run(this.link());
      if (what === "print") this.print();
      if (what === "new") run(this.fresh());
      if (what === "back") run(this.open(this.before || (memory.get("job-before") ?? "")));
      if (what !== "sheet") return;
      e.preventDefault(); // the fragment belongs to the state of the job
      this.toSheet();
    });
    const [handbook, tables] = [...of.el.querySelectorAll(".job-edition dd")].slice(-2);
    if (handbook && tables) [handbook.textContent, tables.textContent] = [root.dataset.edition ?? "", (root.dataset.book ?? "").replace("book-", "")];
    of.el.querySelector<HTMLInputElement>('input[data-job="open"]')?.addEventListener("change", (e) => {
      const input = e.target as HTMLInputElement, file = input.files?.[0];
      e.stopPropagation();
      if (file && file.size > 4 << 20) {
        this.tell("Nothing was opened. A saved job has at most 4 MB.");
        input.value = "";
      } else if (file) void file.text().then((text) => this.open(text)).catch((why: Error) => this.tell("The file cannot be read: " + why.message)).finally(() => (input.value = ""));
    });
  }

  /** Goes to the sheet; an answer still on its way may move it, so once more when
   * that is there, unless the reader has gone elsewhere. */
  private toSheet(): void {
    const el = this.of.el, place = el.querySelector<HTMLElement>(".job-place");
    if (!place) return;
    place.focus({ preventScroll: true });
    place.scrollIntoView();
    if (el.dataset.state !== "asking") return;
    const seen = new MutationObserver(() => {
      if (el.dataset.state === "asking") return;
      seen.disconnect();
      const again = () => { if (document.activeElement === place) place.scrollIntoView(); };
      again();
      requestAnimationFrame(() => requestAnimationFrame(again)); // the band has its new height by then
    });
    seen.observe(el, { attributes: true, attributeFilter: ["data-state"] });
  }

  private tell(text: string, back = false): void {
    const place = this.of.el.querySelector<HTMLElement>('[data-job="told"]');
    if (!place) return;
    place.textContent = text;
    if (!back) return;
    const b = document.createElement("button");
    b.type = "button";
    b.className = "key";
    b.dataset.job = "back";
    b.textContent = "Take the former job back";
    place.append(" ", b);
  }

  /** The job as lines, with what an older file brought along. */
  private async lines(): Promise<string> {
    const asked: Lines = [...this.of.lines("save"), ["edition", root.dataset.edition ?? ""], ...this.keep];
    const reply = await this.clerk.ask(asked);
    const saved = reply.get("saved");
    if (saved === undefined) throw new Error(reply.get("error") ?? "nothing was saved");
    return saved;
  }

  private async save(): Promise<void> {
    const saved = decode(await this.lines());
    const name = (saved.get("in.number") || saved.get("in.part") || "job").toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "job";
    carry(name + ".job.json", JSON.stringify(Object.fromEntries(saved), null, 1) + "\n");
    this.tell("Saved as " + name + ".job.json. This handbook opens it again, and the command kerfbook work --from does.");
  }

  /** Opens what was kept; if it cannot be read, everything stays as it was. */
  private async open(text: string): Promise<void> {
    let pairs: Lines;
    try {
      pairs = read(text);
    } catch (e) {
      this.tell("Nothing was opened. " + (e as Error).message);
      return;
    }
    const reply = await this.clerk.ask([["open", ""], ...pairs]).catch((e: Error) => new Map([["error", e.message]]));
    const refused = reply.get("error");
    if (refused !== undefined) return this.tell("Nothing was opened: " + refused + ".");
    if (reply.get("calculator") !== this.of.id) return this.tell("Nothing was opened: this job belongs to the calculator “" + (reply.get("calculator") ?? "") + "”.");
    await this.remember();
    this.of.lost = undefined;
    this.keep = [...reply].filter(([name]) => name.startsWith("keep."));
    for (const i of this.of.inputs()) i.value = reply.get("in." + i.name) ?? i.closest<HTMLElement>(".field")?.dataset.default ?? "";
    setSystem(reply.get("units") ?? "metric");
    this.tell((reply.get("told") || "The job is open.").replaceAll("\n", " "), true);
    this.of.later();
  }

  private async remember(): Promise<void> {
    this.before = await this.lines();
    memory.set("job-before", this.before);
  }

  private async fresh(): Promise<void> {
    await this.remember();
    this.keep = [];
    this.of.lost = undefined;
    for (const i of this.of.inputs()) i.value = i.closest<HTMLElement>(".field")?.dataset.default ?? "";
    this.tell("A new job, from the usual values.", true);
    this.of.later();
  }

  private async link(): Promise<void> {
    const state = (await this.clerk.ask(this.of.lines("save"))).get("link"); // the last answer may be older than the fields
    if (state === undefined) return this.tell("Nothing was copied: a link holds what was read, and a field is refused.");
    const link = location.href.split("#")[0] + "#" + this.of.id + "?" + state;
    try {
      await navigator.clipboard.writeText(link);
      this.tell("The link is copied.");
    } catch {
      this.tell("This page may not copy. The link: " + link);
    }
  }

  /** Prints the sheet alone. */
  private print(): void {
    if (!this.of.current) return this.tell("Nothing was printed: there is no sheet yet for what stands in the fields.");
    root.classList.add("print-job");
    this.of.el.classList.add("printed");
    addEventListener("afterprint", () => {
      root.classList.remove("print-job");
      this.of.el.classList.remove("printed");
    }, { once: true });
    print();
  }
}

/** A saved job is a JSON object of texts, or lines of name, tab, value. */
function read(text: string): Lines {
  text = text.replace(/^\ufeff/, "").trim();
  if (text === "") throw new Error("The file is empty.");
  if (!/^[{[]/.test(text)) return [...decode(text.replaceAll("\r\n", "\n"))];
  let all: unknown;
  try {
    all = JSON.parse(text);
  } catch {
    throw new Error("This is not whole JSON; the file may have been cut off.");
  }
  if (Array.isArray(all)) throw new Error("This is a JSON list; a saved job is one object of names and texts.");
  const pairs = Object.entries(all as Record<string, unknown>);
  for (const [name, value] of pairs) if (typeof value !== "string") throw new Error(`“${name}” is no text; every value of a saved job is a text in quotes, for example "0.06 mm".`);
  return pairs as Lines;
}

