// The page's host: finds its calculators, brings their state from the link or
// from storage, shows the sheet that a link names, and changes the reader's units.
import { all, Calculator } from "./calculator";
import { sheets } from "./desk";
import { find } from "./find";
import { places, sheet } from "./onefile";
import { memory, setSystem } from "./store";

const root = document.documentElement;
root.classList.replace("no-script", "script");

/** State comes from the link first, then from storage. */
function restore(): void {
  const hash = location.hash.slice(1);
  const cut = hash.indexOf("?");
  const name = (cut < 0 ? hash : hash.slice(0, cut)).split(".").pop();
  const query = cut < 0 ? "" : hash.slice(cut + 1);
  const first = document.querySelector(".kind-first .calc");
  for (const c of all) {
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
addEventListener("hashchange", () => {
  turn(true);
  if (location.hash.includes("?")) restore();
});

/** The first page's form grows into the whole job: what both ask is carried over. */
function grow(): void {
  for (const d of document.querySelectorAll<HTMLDetailsElement>("details.grow"))
    d.addEventListener("toggle", () => {
      const small = all.find((c) => !d.contains(c.el)), whole = all.find((c) => d.contains(c.el));
      if (!d.open || !small || !whole) return;
      if (!location.hash.includes(whole.id + "?")) whole.carry(small);
      whole.later();
    });
}

function turn(told: boolean): void {
  const page = sheet(told);
  if (page) for (const c of all) if (page.contains(c.el) && c.el.offsetParent !== null) c.later();
}

async function begin(): Promise<void> {
  await sheets();
  all.push(...[...document.querySelectorAll<HTMLElement>("[data-calculator]")].map((e) => new Calculator(e)));
  for (const b of document.querySelectorAll<HTMLElement>("[data-system]"))
    b.addEventListener("click", () => {
      setSystem(b.dataset.system ?? "metric");
      all.forEach(answer);
    });
  find();
  grow();
  setSystem(memory.get("units") ?? root.dataset.units ?? "metric");
  places();
  turn(false);
  restore();
}

void begin();
