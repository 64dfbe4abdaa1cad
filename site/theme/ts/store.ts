// What the device keeps for the reader, if it may.
/** Storage that is absent, full or refused changes nothing but memory. */
export const memory = {
  get(name: string): string | null {
    try {
      return localStorage.getItem("kerfbook." + name);
    } catch {
      return null;
    }
  },
  set(name: string, value: string): void {
    try {
      localStorage.setItem("kerfbook." + name, value);
    } catch {
      /* the page works without it */
    }
  },
};

const root = document.documentElement;

/** The reader's system of units is a class of the page. */
export const system = (): string => (root.classList.contains("inch") ? "inch" : "metric");

export function setSystem(name: string): void {
  root.classList.toggle("inch", name === "inch");
  root.classList.toggle("metric", name !== "inch");
  for (const b of document.querySelectorAll<HTMLElement>("[data-system]")) b.setAttribute("aria-pressed", String(b.dataset.system === name));
  memory.set("units", name);
}
