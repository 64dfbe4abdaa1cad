// One calculator of a page: reads fields, asks, and replaces the slots whose text
// changed. It holds no arithmetic, no unit and no limit. An answer stands only
// while the fields are those it is for: with the first change of a field, in the
// same task, what is shown of it is withdrawn.
import { Bench, carry } from "./bench";
import { Desk, type Lines } from "./desk";
import { Job, pages } from "./job";
import { stop } from "./roving";
import { Steady } from "./steady";
import { memory, system } from "./store";
import { watch } from "./view";

const root = document.documentElement;

let desk: Promise<Desk> | undefined;
const open = (): Promise<Desk> =>
  (desk ??= Desk.open().catch((e: Error) => {
    desk = undefined;
    throw new Error("The calculators cannot run here: " + e.message + ".");
  }));

let told: () => void;
/** Kept once a question has its answer. */
export const answered = new Promise<void>((done) => (told = done));

let questions = 0; // of the whole page: no number comes twice, whatever instance answers

/** The calculators of the page. */
export const all: Calculator[] = [];

export class Calculator {
  readonly id: string;
  private shown = new Map<string, string>();
  private waiting = false;
  private pressed = new Map<string, string>();
  private answered: string[]; // the fields that the answer shown is for
  private turn = 0; // the question that counts
  private band: HTMLElement | null;
  private busy: HTMLButtonElement | null;
  private wide = 0; // of the calculator, and how high its band has been at that width
  private tall = 0;
  private steady: Steady;

  constructor(readonly el: HTMLElement) {
    this.id = el.dataset.calculator ?? "";
    this.band = el.querySelector('[data-slot="band"]');
    this.busy = el.querySelector("[data-stop]");
    // A field shows what was published until something is put into it.
    this.answered = [root.dataset.units ?? "", ...this.inputs().map((i) => i.defaultValue)];
    el.addEventListener("input", (e) => {
      this.strict = false;
      this.stray = [];
      this.touched = true;
      this.pressed.delete(fieldOf(e.target) ?? "");
      this.later();
    });
    el.addEventListener("change", (e) => this.later(fieldOf(e.target)));
    el.addEventListener("click", (e) => this.click(e.target as HTMLElement));
    el.addEventListener("submit", (e) => e.preventDefault());
    el.addEventListener("keydown", (e) => this.enter(e));
    for (const s of this.slots()) this.shown.set(s.dataset.slot ?? "", s.innerHTML);
    pages(el);
    this.steady = new Steady(el);
    if (this.band) new ResizeObserver(([e]) => this.stretch(this.band!, e.contentRect)).observe(this.band);
    if (el.querySelector("[data-job]")) this.job = new Job(this);
    if (el.dataset.long === undefined) return;
    this.bench = new Bench();
    watch(el);
    el.addEventListener("change", (e) => void this.file((e.target as HTMLInputElement).files));
    el.addEventListener("dragover", (e) => e.preventDefault());
    el.addEventListener("drop", (e) => {
      e.preventDefault();
      void this.file(e.dataTransfer?.files ?? null);
    });
  }

  /** The band grows with its answers and does not shrink: the form under it rests. */
  private stretch(band: HTMLElement, now: DOMRectReadOnly): void {
    if (this.el.offsetWidth !== this.wide) {
      this.wide = this.el.offsetWidth;
      band.style.minHeight = "";
      this.tall = band.clientHeight;
    } else if (now.height > this.tall) this.tall = now.height;
    band.style.minHeight = this.tall + "px";
    this.el.style.setProperty("--band-height", band.parentElement?.offsetHeight + "px"); // what takes the focus stays below it
  }

  private bench?: Bench; // of a calculator whose answer takes long
  private job?: Job; // of a calculator that makes a whole sheet
  private kept?: Map<string, string>; // the last reply, for what can be carried away

  /** A file that was chosen or dropped becomes the reader's own drawing. */
  private async file(files: FileList | null): Promise<void> {
    const text = this.input("drawing"), from = this.input("sample");
    if (!files?.length || !text) return;
    text.value = await files[0].text();
    if (from) from.value = "own"; // where there are samples to choose from
    this.touched = true;
    this.later();
  }

  /** Whether the answer shown is that of the fields as they stand. */
  get current(): boolean {
    return this.el.dataset.state === undefined;
  }

  private stand = (): string[] => [system(), ...this.inputs().map((i) => i.value)];

  /** Takes the answer back if it is not that of the fields. It must be called in
   * the task that changed them, so that no frame shows one with the other. */
  check(): void {
    if (this.el.dataset.state === "asking" || (this.current && same(this.answered, this.stand()))) return;
    this.steady.hold();
    this.withdraw("asking", "Working it out");
    if (this.busy?.hidden !== false) this.slow ??= setTimeout(() => this.stoppable("Stop"), 300);
    else if (this.busy.textContent !== "Stop") this.stoppable("Stop");
  }

  private slow?: ReturnType<typeof setTimeout>;

  /** States: "asking" while it is worked out, "stopped" when that ended without a
   * reply, "none" when a field is refused. */
  private withdraw(state: string, head: string, lead = ""): void {
    clearTimeout(this.saving); // what would be kept belongs to the former fields
    this.kept = undefined;
    this.el.dataset.state = state;
    if (!this.band) return;
    this.band.replaceChildren(line("headline " + (state === "asking" ? "waiting" : "none"), head));
    if (lead) this.band.append(line("lead", lead));
    this.shown.delete("band");
  }

  /** The key beside the band, for answers that take long; "" takes it away. */
  private stoppable(what: string): void {
    if (!what) {
      clearTimeout(this.slow);
      this.slow = undefined;
    }
    if (!this.busy) return;
    this.steady.hold();
    this.busy.hidden = !what;
    this.busy.textContent = what;
    if (what === "Stop") this.say("Working it out.");
  }

  private say(text: string): void {
    const place = this.el.querySelector<HTMLElement>('[data-slot="say"]');
    if (place) place.textContent = text;
    this.shown.delete("say");
  }

  /** The reader stops a long answer, and may have it begun again. */
  private stop(): void {
    if (this.el.dataset.state !== "asking") return this.later();
    this.turn = 0;
    this.bench?.stop();
    this.stoppable("");
    this.withdraw("stopped", "Stopped", "No answer for what stands in the fields.");
    this.stoppable("Work it out");
    this.say("Stopped. No answer for what stands in the fields.");
  }

  private placed?: HTMLElement[];
  private typed?: Typed[];
  private slots = () => (this.placed ??= [...this.el.querySelectorAll<HTMLElement>("[data-slot]")]);
  inputs = (): Typed[] => (this.typed ??= [...this.el.querySelectorAll<Typed>("input[name], textarea[name]")]);
  private input = (name: string) => this.el.querySelector<Typed>(`[name="${CSS.escape(name)}"]`);

  /** A link says its units: until the reader types, a bare number is refused. */
  private strict = false;
  /** What a link names and this calculator has no field for: the answer says so. */
  private stray: Lines = [];
  private touched = false;
  /** A text that a link names and this device does not have; said until it is there. */
  lost?: { field: string; text: string };

  /** Sets fields from a link's query; unknown names are left to the answer. A link
   * is the whole state: what it does not name stands as usual. */
  restore(query: string, strict: boolean): void {
    this.strict = strict;
    this.stray = [];
    this.lost = undefined;
    if (strict) for (const i of this.inputs()) i.value = i.closest<HTMLElement>(".field")?.dataset.default ?? "";
    for (const [name, value] of new URLSearchParams(query)) {
      const long = /^(.*)\.digest$/.exec(name)?.[1];
      if (long !== undefined) {
        const text = memory.text(this.id, long, value), area = this.input(long);
        if (area && text !== undefined) area.value = text;
        else this.lost = { field: long, text: `This link goes with a text of “${long}” that is not on this device (digest ${value}). Choose its file.` };
        continue;
      }
      const input = this.input(name) ?? this.el.querySelector<Typed>(`[data-also~="${CSS.escape(name)}"] input`);
      if (input) input.value = value;
      else if (strict) this.stray.push(["in." + name, value]);
    }
  }

  /** Sets a choice that is offered: the machine chosen elsewhere. */
  choose(name: string, value: string | null): void {
    const input = this.input(name);
    if (input && value && input.closest(".field")?.querySelector(`[data-pick="${CSS.escape(value)}"]`)) input.value = value;
  }

  /** Takes over what another calculator was told and this one asks too. One that
   * was used says all that it shows, the usual values too. */
  carry(from: Calculator): void {
    for (const i of from.inputs()) {
      const mine = this.input(i.name), was = i.closest<HTMLElement>(".field")?.dataset.default;
      if (mine && i.value !== "" && (from.touched || i.value !== was)) mine.value = i.value;
    }
  }

  private click(target: HTMLElement): void {
    this.touched = true;
    const name = target.closest<HTMLElement>("[data-file]")?.dataset.file;
    if (name) carry(name, this.kept?.get("file." + name) ?? "");
    if (target.closest("[data-stop]")) this.stop();
    const button = target.closest<HTMLButtonElement>("button[data-pick], button[data-key]");
    const field = button && fieldOf(button);
    const input = field && this.input(field);
    if (!button || !field || !input) return;
    if (button.dataset.key !== undefined) {
      this.pressed.set(field, button.dataset.key);
      if (this.current) this.answered = []; // the same text in another unit is another question
      this.later(field);
      return;
    }
    const pick = button.dataset.pick ?? "";
    if (button.closest<HTMLElement>(".field")?.dataset.shape === "list") {
      const on = button.getAttribute("aria-pressed") === "true";
      const rest = input.value.split(";").map((x) => x.trim()).filter((x) => x !== "" && x !== pick);
      input.value = (on ? rest : [...rest, pick]).join("; ");
    } else input.value = pick;
    this.later(field);
  }

  private enter(e: KeyboardEvent): void {
    if (e.key !== "Enter" || !(e.target instanceof HTMLInputElement)) return;
    e.preventDefault();
    const all = [...this.inputs()].filter((i) => i.type !== "hidden" && i.offsetParent !== null);
    const next = all[all.indexOf(e.target) + 1];
    if (next) next.focus();
    else e.target.blur();
  }

  private write = new Set<string>();

  /** Asks when the events at hand are done; several of them ask once. */
  later(write?: string): void {
    this.check();
    if (write) this.write.add(write);
    if (this.waiting) return;
    this.waiting = true;
    queueMicrotask(() => {
      this.waiting = false;
      void this.ask();
    });
  }

  /** What is asked: the fields as they stand. */
  lines(verb: string): Lines {
    const lines: Lines = [[verb, ""], ["calculator", this.id], ["units", system()]];
    if (this.strict) lines.push(["strict", "1"]);
    for (const i of this.inputs()) lines.push(["in." + i.name, i.value]);
    lines.push(...this.stray);
    return lines;
  }

  private held = new Map<string, string>(); // the reply of the question `have`, whole
  private have = "";
  private place = String(++questions);

  /** The whole reply, of which only what changed may have been sent; nothing if it
   * changes a reply that is not held. */
  private whole(sent: Map<string, string>, turn: string): Map<string, string> | undefined {
    const since = sent.get("since"), known = since === undefined || since === this.have;
    const all = new Map(since !== undefined && known ? this.held : []);
    for (const name of sent.get("gone")?.split("\n") ?? []) all.delete(name);
    for (const [name, text] of sent) all.set(name, text);
    this.have = known ? turn : "";
    return known ? (this.held = all) : undefined;
  }

  private async ask(): Promise<void> {
    const mine = (this.turn = ++questions), late = () => mine !== this.turn;
    const lines = this.lines("answer"), asked = this.stand();
    for (const [name, key] of this.pressed) lines.push(["key." + name, key]);
    lines.push(["place", this.place], ["turn", String(mine)], ["have", this.have]);
    const own = (i: Typed, n: number) => this.write.has(i.name) && i.value === asked[n + 1] && (this.pressed.has(i.name) || document.activeElement !== i);
    try {
      const sent = await (this.bench ? this.bench.ask(lines) : quick(lines, late));
      if (late()) return;
      const refused = sent.get("error");
      const reply = refused === undefined ? this.whole(sent, String(mine)) : sent;
      if (!reply || !same(asked, this.stand())) return this.later(); // changed without a word
      if (refused !== undefined) throw new Error(refused + ".");
      this.take(reply, own);
      this.pressed.clear();
      this.write.clear();
    } catch (e) {
      if (!late()) this.fault((e as Error).message);
    }
    if (!late()) told();
  }

  /** Says what went wrong. An answer that is not that of the fields stays away. */
  private fault(text: string): void {
    this.stoppable("");
    if (!this.current) {
      this.withdraw("stopped", "No answer for what stands in the fields");
      this.stoppable("Work it out");
    }
    this.tell(text);
  }

  private tell(text: string): void {
    const place = this.el.querySelector<HTMLElement>('[data-slot="refused"]');
    if (!place) return;
    place.replaceChildren(line("problem", text));
    this.shown.delete("refused"); // the next answer replaces it
    this.say(text);
  }

  /** `write` tells whether a field left by the reader may get its unit written. */
  private take(reply: Map<string, string>, write: (i: Typed, n: number) => boolean): void {
    this.steady.hold();
    this.stoppable("");
    this.kept = reply;
    const link = reply.get("link"); // what is refused has none
    if (link === undefined) this.withdraw("none", "No answer");
    else delete this.el.dataset.state;
    for (const s of this.slots()) {
      const name = s.dataset.slot ?? "";
      const now = reply.get(name);
      if (now === undefined || this.shown.get(name) === now) continue;
      this.shown.set(name, now);
      const opened = [...s.querySelectorAll("details")].map((d) => d.open);
      s.innerHTML = now;
      pages(s);
      s.querySelectorAll("details").forEach((d, i) => (d.open = opened[i] ?? false));
    }
    this.inputs().forEach((i, n) => this.mark(i, reply, write(i, n)));
    this.answered = this.stand();
    if (this.lost && !this.input(this.lost.field)?.value) this.tell(this.lost.text);
    if (link === undefined) return;
    clearTimeout(this.saving); // the address bar and the storage are slow: when the typing rests
    this.saving = setTimeout(() => this.save(link), 250);
  }

  private saving?: ReturnType<typeof setTimeout>;

  private save(link: string): void {
    if (!this.bench) void desk?.then((d) => d.rest(), () => undefined);
    memory.set(this.id, link);
    for (const i of this.inputs()) {
      const digest = new URLSearchParams(link).get(i.name + ".digest");
      if (digest) memory.setText(this.id, i.name, digest, i.value);
    }
    // The address bar holds the state of the calculator that was used.
    const one = root.classList.contains("one-file") ? this.el.closest("article")?.id : undefined;
    if (one ? !this.touched : all.length !== 1 && !(this.touched && this.el.closest(".kind-first"))) return;
    const here = one ? "#" + one : location.pathname + location.search;
    history.replaceState(history.state, "", link ? "#" + (one ? one + "." : "") + this.id + "?" + link : here);
  }

  private mark(i: Typed, reply: Map<string, string>, write: boolean): void {
    const field = i.closest<HTMLElement>(".field");
    if (!field) return;
    const text = reply.get("text." + i.name) ?? "", key = reply.get("key." + i.name) ?? "", bad = reply.get("bad." + i.name) === "1";
    const hidden = reply.get("show." + i.name) === "0";
    if (field.hidden !== hidden) field.hidden = hidden;
    if (bad) {
      change(i, "aria-invalid", "true");
      const fold = i.closest("details.more");
      if (fold) change(fold, "open", ""); // a mistake is not hidden
    } else {
      if (i.hasAttribute("aria-invalid")) i.removeAttribute("aria-invalid");
      if (write && text !== "" && i.value !== text) i.value = text;
    }
    const list = text.split("; "), off = reply.get("off." + i.name)?.split("; ");
    const moved = new Set<Element>(); // rows in which another key is pressed or away
    for (const b of field.getElementsByTagName("button")) {
      const away = off?.includes(b.dataset.pick ?? "") ?? b.hidden, on = String(b.dataset.key !== undefined ? b.dataset.key === key : list.includes(b.dataset.pick ?? ""));
      if (b.hidden === away && b.getAttribute("aria-pressed") === on) continue;
      b.hidden = away;
      b.setAttribute("aria-pressed", on);
      moved.add(b.parentElement!);
    }
    moved.forEach(stop);
    if (i.name === "machine" && text !== "") memory.set("machine", text);
  }
}

/** Asks on the page's own thread; calculators that stop are started again. */
async function quick(lines: Lines, late: () => boolean): Promise<Map<string, string>> {
  const d = await open();
  if (late()) return new Map();
  try {
    return d.ask(lines);
  } catch (e) {
    desk = undefined;
    await open();
    throw new Error("The calculator stopped and was started again: " + (e as Error).message + ".");
  }
}

const same = (a: string[], b: string[]): boolean => a.length === b.length && a.every((x, n) => x === b[n]);

function line(className: string, text: string): HTMLElement {
  const p = document.createElement("p");
  p.className = className;
  p.textContent = text;
  return p;
}

/** Sets an attribute only where it differs: an unchanged page costs nothing. */
const change = (e: Element, name: string, value: string): void => {
  if (e.getAttribute(name) !== value) e.setAttribute(name, value);
};

export type Typed = HTMLInputElement | HTMLTextAreaElement;
const fieldOf = (e: EventTarget | null): string | undefined => (e as HTMLElement | null)?.closest<HTMLElement>(".field")?.dataset.field;
