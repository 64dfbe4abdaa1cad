// What of the handbook the reader has been through: a sheet whose foot was seen is
// read. Kept on the device if it may; where it may not, nothing is said.
import { memory } from "./store";

const held = (): string[] => (memory.get("read") ?? "").split(" ").filter((x) => x !== "");

const foot = "IntersectionObserver" in self ? new IntersectionObserver((seen) => {
  for (const e of seen) {
    const number = e.target.closest<HTMLElement>("article")?.dataset.sheet;
    if (!e.isIntersecting || !number) continue;
    foot?.unobserve(e.target);
    if (!held().includes(number)) memory.set("read", [...held(), number].join(" "));
    marks();
  }
}) : undefined;

/** Watches for the feet of the sheets in a part of the page. */
export function reading(place: ParentNode): void {
  const own = place instanceof HTMLElement && place.matches("article[data-sheet]") ? [place] : [...place.querySelectorAll<HTMLElement>("article[data-sheet]")];
  for (const a of own) {
    const end = a.querySelector(".title-block");
    if (end) foot?.observe(end);
  }
}

/** Notes the sheet that is open, and marks the contents. */
export function opened(sheet: HTMLElement | null | undefined): void {
  if (sheet?.dataset.sheet) memory.set("last", sheet.dataset.sheet);
  marks();
}

function marks(): void {
  const read = held(), last = memory.get("last");
  for (const li of document.querySelectorAll<HTMLElement>(".chapter [data-sheet]")) {
    const number = li.dataset.sheet ?? "", text = number === last ? "you were here" : read.includes(number) ? "read" : "";
    li.classList.toggle("last", number === last);
    let mark = li.querySelector(".seen-mark");
    if (!text) mark?.remove();
    else {
      if (!mark) {
        mark = document.createElement("span");
        mark.className = "seen-mark";
        li.querySelector(".min")?.before(mark);
      }
      mark.textContent = text;
    }
  }
}
