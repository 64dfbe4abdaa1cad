// The page's host: finds its calculators, brings their state from the link or
// from storage, shows the sheet that a link names, and changes the reader's units.
import { all, answered, Calculator } from "./calculator";
import { load, sheets } from "./desk";
import { find } from "./find";
import { places, sheet, stands } from "./onefile";
import { opened as been, reading } from "./read";
import { glossary, words } from "./words";
import { arrows, rove } from "./roving";
import { memory, setSystem } from "./store";

const root = document.documentElement;
root.classList.replace("no-script", "script");

/** State comes from the link first, then from storage. */
function restore(some: Calculator[], hash: string): void {
  const cut = hash.indexOf("?");
  const name = (cut < 0 ? hash : hash.slice(0, cut)).split(".").pop();
  const query = cut < 0 ? "" : hash.slice(cut + 1);
  const first = document.querySelector(".kind-first .calc");
  for (const c of some) {
    const kept = memory.get(c.id);
    if (query !== "" && c.id === name) {
      c.el.closest("details")?.setAttribute("open", "");
      c.restore(query, true);
    }
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
    answer(c);
  }
}

/** What is folded takes its answer back at once and is answered when it opens. */
function answer(c: Calculator): void {
  if (c.el.offsetParent !== null) c.later();
  else c.check();
}

document.addEventListener("focusin", (e) => root.classList.toggle("typing", e.target instanceof HTMLInputElement && e.target.type === "text"));
document.addEventListener("focusout", () => root.classList.remove("typing"));
document.addEventListener("toggle", (e) => {
  for (const c of all) if (!c.current && (e.target as Element).contains(c.el)) answer(c);
}, true);
addEventListener("hashchange", () => void go());

async function go(): Promise<void> {
  if (!stands()) await unpacked(true);
  turn(true);
  if (location.hash.includes("?")) restore(all, location.hash.slice(1));
}

/** The first page's form grows into the whole job: what both ask is carried over. */
function grow(place: ParentNode): void {
  for (const d of place.querySelectorAll<HTMLDetailsElement>("details.grow"))
    d.addEventListener("toggle", () => {
      const small = all.find((c) => !d.contains(c.el)), whole = all.find((c) => d.contains(c.el));
      if (!d.open || !small || !whole) return;
      if (!location.hash.includes(whole.id + "?")) whole.carry(small);
      whole.later();
    });
}

function turn(told: boolean): void {
  const page = sheet(told);
  been(page);
  if (page) for (const c of all) if (page.contains(c.el) && c.el.offsetParent !== null) c.later();
}

/** Makes the calculators of a part of the page what the reader left or was sent. */
function adopt(place: ParentNode, hash: string): void {
  const made = [...place.querySelectorAll<HTMLElement>("[data-calculator]")].map((e) => new Calculator(e));
  all.push(...made);
  rove(place);
  glossary(place);
  reading(place);
  grow(place);
  restore(made, hash);
}

const opened = location.hash.slice(1);
const moment = (): Promise<void> => new Promise((next) => ("requestIdleCallback" in self ? requestIdleCallback(() => next(), { timeout: 200 }) : setTimeout(next, 20)));
let left: string[] = []; // sheets of the one file that are not set yet
let coming: Promise<void> | undefined;

/** Sets the sheets that the one file holds packed into the page: all at once for a
 * reader who goes to one of them, otherwise a few at a time, so that no key waits. */
async function unpacked(now: boolean): Promise<void> {
  await (coming ??= sheets().then((all) => void (left = all)));
  while (left.length > 0) {
    const some = left.splice(0, now ? left.length : 4), before = document.querySelectorAll("article.sheet");
    before[before.length - 1].insertAdjacentHTML("afterend", some.join(""));
    [...document.querySelectorAll("article.sheet")].slice(before.length).forEach((e) => adopt(e, opened));
    if (left.length === 0) find();
    else await moment();
  }
}

async function begin(): Promise<void> {
  // What will be asked at once is brought while the form is set up; the question says what is wrong.
  if (document.querySelector("[data-calculator]:not(details *)")) void load().catch(() => undefined);
  for (const b of document.querySelectorAll<HTMLElement>("[data-system]"))
    b.addEventListener("click", () => {
      setSystem(b.dataset.system ?? "metric");
      all.forEach(answer);
    });
  find();
  arrows();
  words();
  setSystem(memory.get("units") ?? root.dataset.units ?? "metric");
  places();
  const here = stands();
  if (here) turn(false);
  if (!root.classList.contains("one-file")) been(document.querySelector<HTMLElement>("article.sheet"));
  adopt(document, opened);
  if (!here) {
    await unpacked(true);
    turn(false);
  }
  // The calculators are compiled while the page is read, the other sheets unpacked
  // once the first answer stands.
  if (all.some((c) => c.el.offsetParent !== null)) await Promise.race([answered, new Promise((next) => setTimeout(next, 4000))]);
  await moment();
  if (all.length > 0) void load().catch(() => undefined);
  await unpacked(false);
}

void begin();
