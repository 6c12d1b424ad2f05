// Figures in the page: the name of what is under the pointer, the same by keyboard, drag to zoom, copy as SVG, PNG or data.
// Works on every svg[data-figure]; needs no set-up, survives redraws, and leaves a plain drawing when it does not run.
(() => {
  const svgNs = "http://www.w3.org/2000/svg";
  const figureOf = node => node.closest("svg[data-figure]");
  const marksOf = svg => [...svg.querySelectorAll(".mark[data-name]")];
  const number = (node, name) => Number(node.dataset[name]);

  function ready(svg) {
    if (svg.dataset.ready) return;
    svg.dataset.ready = "yes";
    svg.setAttribute("tabindex", "0");
    svg.setAttribute("aria-describedby", describe(svg));
    if (saysOf(svg)) for (const mark of marksOf(svg)) mark.querySelector(":scope > title")?.remove();
  }

  function describe(svg) {
    const says = saysOf(svg);
    if (!says) return "";
    says.id ||= `${svg.id || "figure"}-says`;
    return says.id;
  }

  const saysOf = svg => svg.closest("figure")?.querySelector(".figure-says");

  function point(svg, mark) {
    svg.querySelector(".pointed")?.remove();
    svg.marked = mark;
    const says = saysOf(svg);
    if (!mark) {
      if (says) says.textContent = "";
      return;
    }
    const ring = document.createElementNS(svgNs, "circle");
    for (const [name, value] of Object.entries({ cx: mark.dataset.cx, cy: mark.dataset.cy, r: 10.5, class: "pointed", fill: "none", stroke: "var(--heat)", "stroke-width": 2, "pointer-events": "none" }))
      ring.setAttribute(name, value);
    svg.append(ring);
    if (!says) return;
    says.replaceChildren();
    const name = document.createElement("b");
    name.textContent = mark.dataset.name;
    says.append(name, mark.dataset.detail ? ` ${mark.dataset.detail}` : "");
  }

  function step(svg, by) {
    const marks = marksOf(svg).sort((a, b) => number(a, "cx") - number(b, "cx") || number(a, "cy") - number(b, "cy"));
    if (marks.length === 0) return;
    const now = marks.indexOf(svg.marked);
    point(svg, marks[now < 0 ? (by > 0 ? 0 : marks.length - 1) : (now + by + marks.length) % marks.length]);
  }

  // What the keys do is said when a figure is reached by keyboard, until a mark is named.
  function guide(svg) {
    const says = saysOf(svg);
    if (!says || svg.marked || says.textContent || !svg.matches(":focus-visible") || marksOf(svg).length === 0) return;
    says.textContent = `Arrow keys go from mark to mark${svg.querySelector("a.mark") ? ", Enter opens one" : ""}${svg.dataset.redraw ? ", Escape shows all" : ""}.`;
  }

  // Zoom ------------------------------------------------------------------
  function place(svg, event) {
    const at = svg.createSVGPoint();
    [at.x, at.y] = [event.clientX, event.clientY];
    return at.matrixTransform(svg.getScreenCTM().inverse());
  }

  const panelAt = (svg, at) => [...svg.querySelectorAll("[data-panel]")].find(panel => {
    const [left, top, width, height] = ["left", "top", "width", "height"].map(name => number(panel, name));
    return at.x >= left && at.x <= left + width && at.y >= top && at.y <= top + height;
  });

  function value(panel, axis, fraction) {
    const [low, high] = [number(panel, `${axis}Min`), number(panel, `${axis}Max`)];
    return panel.dataset[`${axis}Scale`] === "Logarithmic" ? low * Math.exp(fraction * Math.log(high / low)) : low + fraction * (high - low);
  }

  function limits(panel, a, b) {
    const x = p => Math.min(1, Math.max(0, (p.x - number(panel, "left")) / number(panel, "width")));
    const y = p => Math.min(1, Math.max(0, 1 - (p.y - number(panel, "top")) / number(panel, "height")));
    const rows = panel.dataset.yScale === "Rows";
    return {
      panel: number(panel, "panel"),
      xMin: value(panel, "x", Math.min(x(a), x(b))), xMax: value(panel, "x", Math.max(x(a), x(b))),
      yMin: rows ? number(panel, "yMin") : value(panel, "y", Math.min(y(a), y(b))), yMax: rows ? number(panel, "yMax") : value(panel, "y", Math.max(y(a), y(b))),
    };
  }

  async function redraw(svg, view) {
    svg.dispatchEvent(new CustomEvent("figurezoom", { bubbles: true, detail: view }));
    if (!svg.dataset.redraw) return;
    const url = new URL(svg.dataset.redraw, document.baseURI);
    for (const [name, part] of Object.entries(view ?? {})) url.searchParams.set(name, part);
    const answer = await fetch(url, { headers: { Accept: "image/svg+xml" } });
    if (!answer.ok) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("svg");
    if (!fresh) return;
    fresh.dataset.redraw = svg.dataset.redraw;
    svg.replaceWith(fresh);
    ready(fresh);
    fresh.focus({ preventScroll: true });
  }

  let drag = null;
  document.addEventListener("pointerdown", event => {
    const svg = event.target instanceof Element && figureOf(event.target);
    if (!svg || event.button !== 0 || !svg.dataset.redraw || event.pointerType === "touch") return;
    const start = place(svg, event);
    const panel = panelAt(svg, start);
    if (!panel) return;
    const box = document.createElementNS(svgNs, "rect");
    for (const [name, part] of Object.entries({ fill: "none", stroke: "var(--heat)", "stroke-width": 1.5, "stroke-dasharray": "5 3", "pointer-events": "none" })) box.setAttribute(name, part);
    drag = { svg, panel, start, box };
  });
  document.addEventListener("pointermove", event => {
    if (drag) {
      const at = place(drag.svg, event);
      if (Math.abs(at.x - drag.start.x) < 4 && Math.abs(at.y - drag.start.y) < 4) return;
      if (!drag.box.isConnected) drag.svg.append(drag.box);
      drag.end = at;
      const rows = drag.panel.dataset.yScale === "Rows";
      const [top, height] = [number(drag.panel, "top"), number(drag.panel, "height")];
      for (const [name, part] of Object.entries({
        x: Math.min(at.x, drag.start.x), width: Math.abs(at.x - drag.start.x),
        y: rows ? top : Math.min(at.y, drag.start.y), height: rows ? height : Math.abs(at.y - drag.start.y),
      })) drag.box.setAttribute(name, part);
      event.preventDefault();
      return;
    }
    const svg = event.target instanceof Element && figureOf(event.target);
    if (!svg) return;
    ready(svg);
    const mark = event.target.closest(".mark[data-name]");
    if (mark && mark !== svg.marked) point(svg, mark);
  });
  document.addEventListener("pointerup", () => {
    if (!drag) return;
    const { svg, panel, start, end, box } = drag;
    drag = null;
    box.remove();
    if (!end || Math.abs(end.x - start.x) < 8) return;
    svg.addEventListener("click", event => event.preventDefault(), { capture: true, once: true });
    redraw(svg, limits(panel, start, end));
  });
  document.addEventListener("dblclick", event => {
    const svg = event.target instanceof Element && figureOf(event.target);
    if (svg?.dataset.redraw) redraw(svg, null);
  });

  // Keyboard ----------------------------------------------------------------
  document.addEventListener("focusin", event => {
    const svg = event.target instanceof Element && figureOf(event.target);
    if (!svg) return;
    ready(svg);
    if (event.target === svg) guide(svg);
  });
  // A mark that is a link would be dragged away as one; a drag here looks closer.
  document.addEventListener("dragstart", event => {
    if (event.target instanceof Element && figureOf(event.target)) event.preventDefault();
  });
  document.addEventListener("keydown", event => {
    const svg = event.target instanceof Element && figureOf(event.target);
    if (!svg || event.target !== svg) return;
    const moves = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };
    if (event.key in moves) step(svg, moves[event.key]);
    else if (event.key === "Enter" && svg.marked?.getAttribute("href")) location.assign(svg.marked.getAttribute("href"));
    else if (event.key === "Escape") svg.dataset.redraw && !svg.marked ? redraw(svg, null) : point(svg, null);
    else return;
    event.preventDefault();
  });

  // Copy ----------------------------------------------------------------------
  async function copy(link) {
    const answer = await fetch(link.href);
    if (!answer.ok) throw new Error(answer.statusText);
    const item = link.dataset.copy === "png"
      ? new ClipboardItem({ "image/png": await answer.blob() })
      : new ClipboardItem({ "text/plain": new Blob([await answer.text()], { type: "text/plain" }) });
    await navigator.clipboard.write([item]);
  }
  document.addEventListener("click", event => {
    const link = event.target instanceof Element && event.target.closest("a[data-copy]");
    if (!link || !navigator.clipboard?.write || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    const says = link.closest("figure")?.querySelector(".figure-says");
    const say = text => { if (says) says.textContent = text; };
    // What was said of an earlier copy must not stand for this one.
    say("");
    copy(link).then(() => say("Copied."), () => location.assign(link.href));
  });

  const all = () => document.querySelectorAll("svg[data-figure]").forEach(ready);
  document.addEventListener("figures", all);
  document.readyState === "loading" ? document.addEventListener("DOMContentLoaded", all) : all();
})();
