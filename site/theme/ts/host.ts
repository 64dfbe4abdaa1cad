// The page's host: reads fields, asks the calculators, replaces the slots whose
// text changed, and keeps the state in the link and, if allowed, in storage. It
// holds no arithmetic, no unit and no limit.
import { Bench, carry } from "./bench";
import { Desk, sheets, type Lines } from "./desk";
import { find } from "./find";
import { memory, setSystem, system } from "./store";
import { watch } from "./view";

const root = document.documentElement;
root.classList.replace("no-script", "script");

let desk: Promise<Desk> | undefined;
const open = (): Promise<Desk> => (desk ??= Desk.open());

class Calculator {
  readonly id: string;
  private shown = new Map<string, string>();
  private waiting = false;
  private keys = new Map<string, string>();
  private pressed = new Map<string, string>();

  constructor(readonly el: HTMLElement) {
    this.id = el.dataset.calculator ?? "";
    el.addEventListener("input", () => {
      this.strict = false;
      this.later();
    });
    el.addEventListener("change", (e) => this.later(fieldOf(e.target)));
    el.addEventListener("click", (e) => this.click(e.target as HTMLElement));
    el.addEventListener("submit", (e) => e.preventDefault());
    el.addEventListener("keydown", (e) => this.enter(e));
    for (const s of this.slots()) this.shown.set(s.dataset.slot ?? "", s.innerHTML);
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
  private kept?: Map<string, string>; // the last reply, for what can be carried away

  /** A file that was chosen or dropped becomes the reader's own drawing. */
  private async file(files: FileList | null): Promise<void> {
    const text = this.input("drawing"), from = this.input("sample");
    if (!files?.length || !text || !from) return;
    text.value = await files[0].text();
    from.value = "own";
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
  inputs = () => (this.typed ??= [...this.el.querySelectorAll<Typed>("input[name], textarea[name]")]);
  private input = (name: string) => this.el.querySelector<Typed>(`[name="${name}"]`);

  /** A link says its units: until the reader types, a bare number is refused. */
  private strict = false;

  /** Sets fields from a link's query; unknown names are left to the answer. */
  restore(query: string, strict: boolean): void {
    this.strict = strict;
    for (const [name, value] of new URLSearchParams(query)) {
      const input = this.input(name) ?? this.el.querySelector<Typed>(`[data-also~="${CSS.escape(name)}"] input`);
      if (input) input.value = value;
    }
  }

  /** Sets a choice that is offered: the machine chosen elsewhere. */
  choose(name: string, value: string | null): void {
    const input = this.input(name);
    if (input && value && input.closest(".field")?.querySelector(`[data-pick="${CSS.escape(value)}"]`)) input.value = value;
  }

  private click(target: HTMLElement): void {
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

  private async ask(): Promise<void> {
    const lines: Lines = [["answer", ""], ["calculator", this.id], ["units", system()]];
    if (this.strict) lines.push(["strict", "1"]);
    const asked = new Map([...this.inputs()].map((i) => [i.name, i.value]));
    for (const [name, value] of asked) lines.push(["in." + name, value]);
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
      s.querySelectorAll("details").forEach((d, i) => (d.open = opened[i] ?? false));
    }
    for (const i of this.inputs()) this.mark(i, reply, write(i));
    const link = reply.get("link");
    if (link === undefined) return;
    clearTimeout(this.saving); // the address bar and the storage are slow: when the typing rests
    this.saving = setTimeout(() => this.save(link), 250);
  }

  private saving?: ReturnType<typeof setTimeout>;

  private save(link: string): void {
    memory.set(this.id, link);
    if (root.classList.contains("one-file") || all.length !== 1) return;
    history.replaceState(null, "", link ? "#" + this.id + "?" + link : location.pathname + location.search);
  }

  private mark(i: Typed, reply: Map<string, string>, write: boolean): void {
    const field = i.closest<HTMLElement>(".field");
    if (!field) return;
    const text = reply.get("text." + i.name) ?? "", key = reply.get("key." + i.name) ?? "", bad = reply.get("bad." + i.name) === "1";
    const hidden = reply.get("show." + i.name) === "0";
    if (field.hidden !== hidden) field.hidden = hidden;
    if (bad) change(i, "aria-invalid", "true");
    else {
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

type Typed = HTMLInputElement | HTMLTextAreaElement;
const fieldOf = (e: EventTarget | null): string | undefined => (e as HTMLElement | null)?.closest<HTMLElement>(".field")?.dataset.field;

let all: Calculator[] = [];

/** In the one file a fragment names a sheet; its own fragment follows a point. */
function sheet(): void {
  if (!root.classList.contains("one-file")) return;
  const [name] = decodeURIComponent(location.hash.slice(1)).split("?");
  const wanted = document.getElementById(name) ?? document.getElementById(name.split(".")[0]);
  const page = wanted?.closest("article.sheet") ?? document.querySelector("article.sheet");
  for (const a of document.querySelectorAll("article.sheet")) a.classList.toggle("shown", a === page);
  const own = name.split(".").slice(1).join(".");
  const target = (own && document.getElementById(name)) || page;
  target?.scrollIntoView();
  for (const c of all) if (page?.contains(c.el)) c.later();
}

/** State comes from the link first, then from storage. */
function restore(): void {
  const hash = location.hash.slice(1);
  const cut = hash.indexOf("?");
  const name = (cut < 0 ? hash : hash.slice(0, cut)).split(".").pop();
  const query = cut < 0 ? "" : hash.slice(cut + 1);
  const first = document.querySelector(".kind-first .calc");
  for (const c of all) {
    const kept = memory.get(c.id);
    if (query !== "" && c.id === name) c.restore(query, true);
    else {
      if (kept && (c.el === first || document.querySelector(".kind-page .calc") === c.el)) c.restore(kept, false);
      c.choose("machine", memory.get("machine"));
    }
    if (c.el === first && kept) {
      const i = c.el.querySelector<HTMLInputElement>('input[name="radius"]');
      c.el.querySelector('[data-field="wire"] [aria-pressed="true"]')?.scrollIntoView({ block: "nearest", inline: "center" });
      i?.focus({ preventScroll: true });
      i?.setSelectionRange(0, /^[-0-9.,/]*/.exec(i.value)?.[0].length ?? 0);
    }
    if (c.el.offsetParent !== null) c.later();
  }
}

document.addEventListener("focusin", (e) => root.classList.toggle("typing", e.target instanceof HTMLInputElement && e.target.type === "text"));
document.addEventListener("focusout", () => root.classList.remove("typing"));
addEventListener("hashchange", () => {
  sheet();
  if (location.hash.includes("?")) restore();
});

async function begin(): Promise<void> {
  await sheets();
  all = [...document.querySelectorAll<HTMLElement>("[data-calculator]")].map((e) => new Calculator(e));
  for (const b of document.querySelectorAll<HTMLElement>("[data-system]"))
    b.addEventListener("click", () => {
      setSystem(b.dataset.system ?? "metric");
      for (const c of all) c.later();
    });
  find();
  setSystem(memory.get("units") ?? "metric");
  sheet();
  restore();
}

void begin();
