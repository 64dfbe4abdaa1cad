// A word of the trade is explained where it stands: a tap shows its definition in a
// small sheet beside it, which Escape or a tap elsewhere takes away. Without scripts,
// or where a browser has no such sheets, the word leads to the glossary.
import { bring } from "./desk";

declare global {
  interface Window {
    kerfbookWords?: Record<string, [string, string]>;
  }
}

const root = document.documentElement;
let from: HTMLAnchorElement | undefined; // the word that was tapped
let sheet: HTMLElement | undefined;

/** The word whose definition a link stands in. */
export const opener = (): HTMLAnchorElement | undefined => from;

/** The glossary's name and text of a word: in the one file from its own sheet. */
async function entry(link: HTMLAnchorElement): Promise<[string, string] | undefined> {
  const anchor = decodeURIComponent(link.hash.slice(1));
  if (root.classList.contains("one-file")) {
    const name = document.getElementById(anchor), text = name?.nextElementSibling;
    return name && text ? [name.innerHTML, text.innerHTML] : undefined;
  }
  if (!self.kerfbookWords) await bring(root.dataset.words ?? "", () => "");
  return self.kerfbookWords?.[anchor];
}

function made(): HTMLElement {
  const box = document.createElement("div");
  box.className = "word";
  box.popover = "auto";
  box.tabIndex = -1;
  box.setAttribute("role", "dialog");
  box.setAttribute("aria-labelledby", "word-name");
  box.addEventListener("toggle", (e) => {
    if ((e as ToggleEvent).newState === "open") return;
    from?.removeAttribute("aria-expanded");
    if (document.activeElement === document.body || box.contains(document.activeElement)) from?.focus({ preventScroll: true });
  });
  box.addEventListener("click", (e) => {
    if ((e.target as Element).closest("a")) box.hidePopover();
  });
  document.body.append(box);
  return box;
}

async function show(link: HTMLAnchorElement): Promise<void> {
  const found = await entry(link).catch(() => undefined);
  if (!found) return location.assign(link.href);
  const box = (sheet ??= made());
  box.innerHTML = '<p id="word-name" class="word-name"></p><p class="word-text"></p><p class="word-more"><a>Open in the glossary</a></p>';
  const [name, text, more] = box.children;
  name.innerHTML = found[0];
  text.innerHTML = found[1];
  if (!root.classList.contains("one-file")) for (const a of text.querySelectorAll("a")) a.setAttribute("href", root.dataset.root + (a.getAttribute("href") ?? ""));
  more.querySelector("a")!.href = link.href;
  from = link;
  box.showPopover();
  place(box, link);
  link.setAttribute("aria-expanded", "true");
  box.focus({ preventScroll: true });
}

/** Below the word, above it where there is no room, inside the window in any case. */
function place(box: HTMLElement, link: HTMLElement): void {
  const lines = link.getClientRects(), first = lines[0], last = lines[lines.length - 1], bar = document.querySelector<HTMLElement>(".bar");
  const foot = innerHeight - (bar?.offsetHeight ?? 0);
  const below = last.bottom + box.offsetHeight + 16 < foot || first.top < box.offsetHeight + 16;
  box.style.top = scrollY + (below ? last.bottom + 6 : first.top - box.offsetHeight - 6) + "px";
  box.style.left = Math.max(8, Math.min(last.left, root.clientWidth - box.offsetWidth - 8)) + "px";
}

export function words(): void {
  if (!("popover" in HTMLElement.prototype)) return;
  let again = false; // the tap that takes the sheet away shall not bring it back
  document.addEventListener("pointerdown", (e) => (again = sheet?.matches(":popover-open") === true && (e.target as Element).closest("a.term") === from), true);
  document.addEventListener("click", (e) => {
    const link = (e.target as Element).closest<HTMLAnchorElement>("a.term");
    if (!link || e.button !== 0 || e.ctrlKey || e.metaKey || e.shiftKey || e.altKey) return;
    e.preventDefault();
    if (!again) void show(link);
    again = false;
  });
}

/** The glossary, narrowed as the reader types. */
export function glossary(place: ParentNode): void {
  const list = place.querySelector<HTMLElement>(".kind-glossary"), filter = list?.querySelector<HTMLInputElement>(".filter input");
  if (!list || !filter) return;
  const found = list.querySelector<HTMLElement>(".found");
  filter.closest("p")!.hidden = false;
  filter.addEventListener("input", () => {
    const want = filter.value.trim().toLowerCase(), all = [...list.querySelectorAll<HTMLElement>(".glossary > div")];
    for (const e of all) e.hidden = !(e.textContent ?? "").toLowerCase().includes(want);
    for (const part of list.querySelectorAll<HTMLElement>(".letter")) part.hidden = part.querySelector(".glossary > div:not([hidden])") === null;
    const n = all.filter((e) => !e.hidden).length;
    if (found) found.textContent = want === "" ? "" : n === 0 ? "Nothing found." : n === 1 ? "1 word" : n + " words";
  });
}
