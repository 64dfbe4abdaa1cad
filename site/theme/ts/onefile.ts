// The one file: a fragment names the sheet that is shown, and what a browser does
// for pages is done here for sheets: title, focus, and the place to come back to.
import { opener } from "./words";

const root = document.documentElement;
const one = root.classList.contains("one-file");

/** Where a reader was on a sheet, kept with the entry of the history. */
type Place = { y?: number; link?: number };

const links = (page: Element): HTMLAnchorElement[] => [...page.querySelectorAll("a")];
const shown = (): Element | null => document.querySelector("article.sheet.shown");

/** A fragment that was cut off in the middle of a sign is taken as it stands. */
function plain(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

function keep(more: Place): void {
  try {
    history.replaceState({ ...history.state, y: scrollY, ...more }, "");
  } catch {
    // a browser that has been asked too often: the place before is kept
  }
}

/** Keeps the reader's place on each sheet. */
export function places(): void {
  if (!one) return;
  history.scrollRestoration = "manual";
  let rest: ReturnType<typeof setTimeout>;
  addEventListener("scroll", () => {
    clearTimeout(rest);
    rest = setTimeout(() => shown() && keep({}), 100); // before a sheet is shown the page is short, and its place nobody's
  }, { passive: true });
  document.addEventListener("click", (e) => {
    const page = shown(), link = (e.target as Element).closest("a");
    if (!link) return;
    if (link.className === "skip") {
      // The fragment of this link would name no sheet.
      e.preventDefault();
      const head = page?.querySelector<HTMLElement>("h1");
      if (head) focus(head);
      return page?.scrollIntoView();
    }
    clearTimeout(rest); // the place is kept now; what comes is another entry's
    const at = link.closest("[popover]") ? opener() : link;
    keep({ link: page && at ? links(page).indexOf(at) : -1 });
  }, true);
}

function focus(e: HTMLElement): void {
  if (e.tabIndex < 0) e.tabIndex = -1;
  e.focus({ preventScroll: true });
}

const named = (): string => plain(location.hash.slice(1).split("?")[0]);
const found = (name: string): HTMLElement | null => document.getElementById(name) ?? document.getElementById(name.split(".")[0]);

/** Whether the page holds what the fragment names; in the folder it always does. */
export const stands = (): boolean => !one || named() === "" || found(named()) !== null;

/** Shows the sheet that the fragment names, the first if it names none. `told`:
 * the reader went there, so a screen reader is taken along. */
export function sheet(told: boolean): HTMLElement | undefined {
  if (!one) return;
  const wanted = found(named());
  const page = wanted?.closest<HTMLElement>("article.sheet") ?? document.querySelector<HTMLElement>("article.sheet");
  if (!page) return;
  const before = shown();
  for (const a of document.querySelectorAll("article.sheet")) a.classList.toggle("shown", a === page);
  for (const a of document.querySelectorAll<HTMLAnchorElement>(".bar a"))
    if (a.hash === "#" + page.id) a.setAttribute("aria-current", "page");
    else if (a.dataset.part === page.dataset.part) a.setAttribute("aria-current", "true");
    else a.removeAttribute("aria-current");
  const head = page.querySelector<HTMLElement>("h1"), own = wanted && wanted !== page && page.contains(wanted) ? wanted : undefined;
  document.title = (head?.textContent ?? "") + " - " + root.dataset.title;
  const { y, link } = (history.state ?? {}) as Place;
  const back = y === undefined || link === undefined ? undefined : links(page)[link];
  if (y !== undefined) scrollTo(0, y);
  else (own ?? page).scrollIntoView();
  const at = back ?? own ?? head;
  if (told && at && (page !== before || at !== head)) focus(at);
  return page;
}
