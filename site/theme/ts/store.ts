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
  /** A text of several lines, the newest of its field, if it has this digest. */
  text(id: string, field: string, digest: string): string | undefined {
    const [held, ...rest] = (memory.get("text." + id + "." + field) ?? "").split("\n");
    return held === digest ? rest.join("\n") : undefined;
  },
  setText(id: string, field: string, digest: string, text: string): void {
    memory.set("text." + id + "." + field, digest + "\n" + text);
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
