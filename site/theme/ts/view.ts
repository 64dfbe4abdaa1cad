// A drawing can be looked at closely: wheel or two keys to come nearer, drag to
// move, a tap on a place in the table to see it. Only the view changes.
const views = new WeakMap<Element, string>();

const box = (svg: SVGSVGElement): number[] => (svg.getAttribute("viewBox") ?? "").split(" ").map(Number);

function look(svg: SVGSVGElement, x: number, y: number, w: number, h: number): void {
  if (!views.has(svg)) views.set(svg, svg.getAttribute("viewBox") ?? "");
  svg.setAttribute("viewBox", [x, y, w, h].join(" "));
}

function nearer(svg: SVGSVGElement, times: number, fx = 0.5, fy = 0.5): void {
  const [x, y, w, h] = box(svg);
  look(svg, x + w * fx * (1 - 1 / times), y + h * fy * (1 - 1 / times), w / times, h / times);
}

export function watch(calc: HTMLElement): void {
  const svgOf = (e: Event) => (e.target as Element).closest<SVGSVGElement>("svg.fig");
  calc.classList.add("can-zoom");
  calc.addEventListener("wheel", (e) => {
    const svg = svgOf(e);
    if (!svg || !e.ctrlKey) return; // the wheel alone scrolls the page
    e.preventDefault();
    const r = svg.getBoundingClientRect();
    nearer(svg, e.deltaY < 0 ? 1.25 : 0.8, (e.clientX - r.left) / r.width, (e.clientY - r.top) / r.height);
  }, { passive: false });
  let from: { svg: SVGSVGElement; x: number; y: number } | undefined;
  calc.addEventListener("pointerdown", (e) => {
    const svg = svgOf(e);
    if (svg && views.has(svg)) from = { svg, x: e.clientX, y: e.clientY };
  });
  calc.addEventListener("pointermove", (e) => {
    if (!from) return;
    const [x, y, w, h] = box(from.svg), r = from.svg.getBoundingClientRect();
    look(from.svg, x - ((e.clientX - from.x) / r.width) * w, y - ((e.clientY - from.y) / r.height) * h, w, h);
    from = { svg: from.svg, x: e.clientX, y: e.clientY };
  });
  for (const end of ["pointerup", "pointercancel", "pointerleave"]) calc.addEventListener(end, () => (from = undefined));
  calc.addEventListener("click", (e) => {
    const t = e.target as Element, svg = calc.querySelector<SVGSVGElement>("svg.fig");
    if (!svg) return;
    const way = t.closest<HTMLElement>("[data-view]")?.dataset.view, place = t.closest<HTMLElement>("tr")?.querySelector<HTMLElement>("[data-at]")?.dataset.at;
    if (way === "in") nearer(svg, 1.6);
    else if (way === "out") nearer(svg, 1 / 1.6);
    else if (way === "all") svg.setAttribute("viewBox", views.get(svg) ?? svg.getAttribute("viewBox") ?? "");
    else if (place) {
      const [x, y] = place.split(" ").map(Number), [, , w, h] = (views.get(svg) ?? svg.getAttribute("viewBox") ?? "").split(" ").map(Number);
      look(svg, x - w / 12, y - h / 12, w / 6, h / 6);
      svg.scrollIntoView({ block: "nearest" });
    }
  });
}
