// What the reader has a hand on keeps its place in the window while the page around
// it changes: what a change above it pushes, the page is scrolled by, before the
// frame is drawn.
export class Steady {
  private on?: Element; // the field or key that was touched last
  private was?: number; // where it stood on the page before the changes of this frame

  constructor(place: HTMLElement) {
    for (const kind of ["focusin", "pointerdown", "input"])
      place.addEventListener(kind, (e) => (this.on = (e.target as Element).closest("input, textarea, .chip, .key") ?? undefined), true);
  }

  /** Before a change: the frame that it ends in looks what it moved. */
  hold(): void {
    const on = this.on;
    if (!on || this.was !== undefined || on.getClientRects().length === 0) return;
    this.was = top(on);
    requestAnimationFrame(() => {
      const was = this.was ?? 0;
      this.was = undefined;
      if (on.getClientRects().length > 0) scrollBy({ top: top(on) - was, behavior: "instant" });
    });
  }
}

const top = (e: Element): number => e.getBoundingClientRect().top + scrollY;
