// The list of everything, narrowed as the reader types.
export function find(): void {
  const filter = document.querySelector<HTMLInputElement>("#find-text");
  if (filter) {
    filter.closest("p")!.hidden = false;
    filter.addEventListener("input", () => {
      const want = filter.value.trim().toLowerCase();
      for (const li of document.querySelectorAll<HTMLElement>(".find-list li")) li.hidden = !(li.textContent ?? "").toLowerCase().includes(want);
    });
  }
}
