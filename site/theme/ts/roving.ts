// A row of keys is one stop for the Tab key: the key that is pressed, or the first.
// Arrows, Home and End go along the row; Enter and the space bar press.
const rows = ".chips, .keys, .bar .systems";
const keys = (row: Element): HTMLElement[] => [...row.querySelectorAll<HTMLElement>("button")].filter((b) => !b.hidden);

/** Puts the one stop of a row where it belongs after keys were pressed or hidden. */
export function stop(row: Element): void {
  const all = keys(row), at = all.find((b) => b === document.activeElement) ?? all.find((b) => b.getAttribute("aria-pressed") === "true") ?? all[0];
  for (const b of row.querySelectorAll<HTMLElement>("button")) {
    const index = b === at ? 0 : -1;
    if (b.getAttribute("tabindex") !== String(index)) b.tabIndex = index;
  }
}

/** Makes rows of a part of the page such stops. */
export function rove(place: ParentNode): void {
  for (const row of place.querySelectorAll<HTMLElement>(rows)) {
    if (row.getAttribute("role") === "toolbar" || keys(row).length < 2) continue;
    row.setAttribute("role", "toolbar"); // so that a screen reader hands the arrows on
    stop(row);
  }
}

/** Hears the arrows of all rows. */
export function arrows(): void {
  document.addEventListener("keydown", (e) => {
    const from = e.target as HTMLElement, row = from.closest(rows);
    if (!row || from.tagName !== "BUTTON" || e.ctrlKey || e.altKey || e.metaKey) return;
    const all = keys(row), at = all.indexOf(from);
    const to = { ArrowRight: all[at + 1], ArrowDown: all[at + 1], ArrowLeft: all[at - 1], ArrowUp: all[at - 1], Home: all[0], End: all[all.length - 1] }[e.key];
    if (!to) return;
    e.preventDefault();
    to.focus();
    stop(row);
  });
  document.addEventListener("focusout", (e) => {
    const row = (e.target as Element).closest(rows);
    if (row && !row.contains(e.relatedTarget as Node | null)) queueMicrotask(() => stop(row));
  });
}
