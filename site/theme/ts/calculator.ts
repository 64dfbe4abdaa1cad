// One calculator of a page: reads fields, asks, and replaces the slots whose text
// changed. It holds no arithmetic, no unit and no limit.
import { Bench, carry } from "./bench";
import { Desk, type Lines } from "./desk";
import { Job, pages } from "./job";
import { memory, system } from "./store";
import { watch } from "./view";

const root = document.documentElement;

let desk: Promise<Desk> | undefined;
const open = (): Promise<Desk> => (desk ??= Desk.open());

/** The calculators of the page. */
export const all: Calculator[] = [];

export class Calculator {
  readonly id: string;
  private shown = new Map<string, string>();
  private waiting = false;
  private keys = new Map<string, string>();
  private pressed = new Map<string, string>();

  constructor(readonly el: HTMLElement) {
    this.id = el.dataset.calculator ?? "";
    el.addEventListener("input", () => {
      this.strict = false;
      this.touched = true;
      this.later();
    });
    el.addEventListener("change", (e) => this.later(fieldOf(e.target)));
    el.addEventListener("click", (e) => this.click(e.target as HTMLElement));
    el.addEventListener("submit", (e) => e.preventDefault());
    el.addEventListener("keydown", (e) => this.enter(e));
    for (const s of this.slots()) this.shown.set(s.dataset.slot ?? "", s.innerHTML);
    pages(el);
    if (el.querySelector("[data-job]")) this.job = new Job(this, open);
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

  /** While a long answer is worked out the reader may stop it. */
  private async long(lines: Lines): Promise<Map<string, string>> {
    const busy = this.el.querySelector<HTMLElement>(".busy");
    const timer = setTimeout(() => busy && (busy.hidden = false), 300);
    try {
      return await this.bench!.ask(lines);
    } finally {
      clearTimeout(timer);
      if (busy) busy.hidden = true;
    }
  }

  private placed?: HTMLElement[];
  private typed?: Typed[];
  private slots = () => (this.placed ??= [...this.el.querySelectorAll<HTMLElement>("[data-slot]")]);
  inputs = (): Typed[] => (this.typed ??= [...this.el.querySelectorAll<Typed>("input[name], textarea[name]")]);
  private input = (name: string) => this.el.querySelector<Typed>(`[name="${CSS.escape(name)}"]`);

  /** A link says its units: until the reader types, a bare number is refused. */
  private strict = false;
  private touched = false;
  /** A text that a link names and this device does not have; said until it is there. */
  lost?: { field: string; text: string };

  /** Sets fields from a link's query; unknown names are left to the answer. */
  restore(query: string, strict: boolean): void {
    this.strict = strict;
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
    if (target.closest("[data-stop]")) this.bench?.stop("stopped by you");
    const button = target.closest<HTMLButtonElement>("button[data-pick], button[data-key]");
    const field = button && fieldOf(button);
    const input = field && this.input(field);
    if (!button || !field || !input) return;
    if (button.dataset.key !== undefined) {
      this.pressed.set(field, button.dataset.key);
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
    if (write) this.write.add(write);
    if (this.waiting) return;
    this.waiting = true;
    queueMicrotask(() => {
      this.waiting = false;
      void this.ask();
    });
  }

  /** The state as a link's query, as the last answer gave it. */
  link = (): string => this.kept?.get("link") ?? "";

  /** What is asked: the fields as they stand. */
  lines(verb: string): Lines {
    const lines: Lines = [[verb, ""], ["calculator", this.id], ["units", system()]];
    if (this.strict) lines.push(["strict", "1"]);
    for (const i of this.inputs()) lines.push(["in." + i.name, i.value]);
    return lines;
  }

  private async ask(): Promise<void> {
    const lines = this.lines("answer");
    const asked = new Map(this.inputs().map((i) => [i.name, i.value]));
    for (const [name, key] of this.pressed) lines.push(["key." + name, key]);
    const written = [...this.write];
    this.pressed.clear();
    this.write.clear();
    const own = (i: Typed) => written.includes(i.name) && i.value === asked.get(i.name) && document.activeElement !== i;
    try {
      if (this.bench) {
        this.take(await this.long(lines), own);
        return;
      }
      const d = await open();
      let reply: Map<string, string>;
      try {
        reply = d.ask(lines);
      } catch (e) {
        await d.start();
        this.fault("The calculator stopped and was started again: " + (e as Error).message);
        return;
      }
      const refused = reply.get("error");
      if (refused !== undefined) this.fault(refused);
      else this.take(reply, own);
    } catch (e) {
      if ((e as Error).message === "a newer question") return;
      desk = undefined;
      this.fault("The calculators cannot run here: " + (e as Error).message + ". The answer below is for the default inputs.");
    }
  }

  private fault(text: string): void {
    const place = this.el.querySelector<HTMLElement>('[data-slot="refused"]');
    if (!place) return;
    const p = document.createElement("p");
    p.className = "problem";
    p.textContent = text;
    place.replaceChildren(p);
    this.shown.delete("refused"); // the next answer replaces it
    const say = this.el.querySelector<HTMLElement>('[data-slot="say"]');
    if (say) say.textContent = text;
    this.shown.delete("say");
  }

  /** `write` tells whether a field left by the reader may get its unit written. */
  private take(reply: Map<string, string>, write: (i: Typed) => boolean): void {
    this.kept = reply;
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
    for (const i of this.inputs()) this.mark(i, reply, write(i));
    if (this.lost && !this.input(this.lost.field)?.value) this.fault(this.lost.text);
    const link = reply.get("link");
    if (link === undefined) return;
    clearTimeout(this.saving); // the address bar and the storage are slow: when the typing rests
    this.saving = setTimeout(() => this.save(link), 250);
  }

  private saving?: ReturnType<typeof setTimeout>;

  private save(link: string): void {
    memory.set(this.id, link);
    for (const i of this.inputs()) {
      const digest = new URLSearchParams(link).get(i.name + ".digest");
      if (digest) memory.setText(this.id, i.name, digest, i.value);
    }
    // The address bar holds the state of the calculator that was used.
    const one = root.classList.contains("one-file") ? this.el.closest("article")?.id : undefined;
    if (one ? !this.touched : all.length !== 1 && !(this.touched && this.el.closest(".kind-first"))) return;
    const here = one ? "#" + one : location.pathname + location.search;
    history.replaceState(null, "", link ? "#" + (one ? one + "." : "") + this.id + "?" + link : here);
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
    for (const b of field.getElementsByTagName("button")) {
      if (off) b.hidden = off.includes(b.dataset.pick ?? "");
      change(b, "aria-pressed", String(b.dataset.key !== undefined ? b.dataset.key === key : list.includes(b.dataset.pick ?? "")));
    }
    if (i.name === "machine" && text !== "") memory.set("machine", text);
  }
}

/** Sets an attribute only where it differs: an unchanged page costs nothing. */
const change = (e: Element, name: string, value: string): void => {
  if (e.getAttribute(name) !== value) e.setAttribute(name, value);
};

export type Typed = HTMLInputElement | HTMLTextAreaElement;
const fieldOf = (e: EventTarget | null): string | undefined => (e as HTMLElement | null)?.closest<HTMLElement>(".field")?.dataset.field;
