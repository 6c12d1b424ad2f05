// Areas marked on the picture by dragging: each becomes a line of the list beside it, where it can be written by hand too. Two clicks on the ends of a scale bar fill its line.
export class Areas {
  constructor(viewer, form, told) {
    this.viewer = viewer;
    this.form = form;
    this.told = told;
    viewer.painters.push(pen => this.paint(pen));
    this.buttons = [...viewer.root.querySelectorAll("[data-tool]")];
    for (const button of this.buttons) button.addEventListener("click", () => this.take(button.getAttribute("aria-pressed") === "true" ? null : button.dataset.tool));
    viewer.canvas.addEventListener("keydown", event => {
      if (event.key === "Escape" && viewer.tool) { this.take(null); event.stopPropagation(); }
    });
    form.addEventListener("input", () => viewer.draw());
    form.addEventListener("click", event => {
      const line = event.target.closest("[data-remove]");
      if (!line) return;
      const input = document.getElementById(line.dataset.remove);
      input.value = "";
      input.dispatchEvent(new Event("input", { bubbles: true }));
      input.focus();
    });
  }

  take(tool) {
    for (const button of this.buttons) button.setAttribute("aria-pressed", button.dataset.tool === tool);
    this.viewer.tool = tool === "bar" ? this.bar() : tool ? this.rectangle(tool) : null;
    this.viewer.canvas.classList.toggle("marking", !!tool);
    this.drawn = null;
    this.told({
      out: "Drag over what is not to be measured, then write the reason beside it.",
      mark: "Drag over a place that shows one class alone, then write its class.",
      bar: "Click one end of the scale bar, then the other.",
    }[tool] ?? "");
    this.viewer.draw();
  }

  rectangle(kind) {
    let from = null;
    return {
      down: at => { from = at; },
      move: at => { if (from) { this.drawn = this.between(from, at); this.viewer.draw(); } },
      up: at => {
        const box = from && this.between(from, at);
        from = null;
        this.drawn = null;
        if (box && box.width > 2 && box.height > 2) this.write(kind, box);
        this.viewer.draw();
      },
    };
  }

  bar() {
    let first = null;
    const far = (a, b) => Math.hypot(a.x - b.x, a.y - b.y) * this.viewer.zoom > 5;
    const finish = (a, b) => {
      const n = v => Math.round(v * 10) / 10;
      const input = this.form.elements.ends;
      input.value = `${n(a.x)},${n(a.y)} ${n(b.x)},${n(b.y)}`;
      input.dispatchEvent(new Event("input", { bubbles: true }));
      this.take(null);
      this.told(`The bar spans ${Math.round(Math.hypot(a.x - b.x, a.y - b.y))} px. Write its length.`);
      this.form.elements.bar.focus();
    };
    return {
      down: at => { if (!first) { first = at; this.line = [at, at]; } },
      move: at => { if (first) { this.line = [first, at]; this.viewer.draw(); } },
      up: at => { if (first && far(first, at)) { this.line = null; finish(first, at); } },
    };
  }

  between(a, b) {
    const x = Math.max(0, Math.round(Math.min(a.x, b.x))), y = Math.max(0, Math.round(Math.min(a.y, b.y)));
    return { x, y, width: Math.min(this.viewer.width, Math.round(Math.max(a.x, b.x))) - x, height: Math.min(this.viewer.height, Math.round(Math.max(a.y, b.y))) - y };
  }

  write(kind, box) {
    const lines = [...this.form.querySelectorAll(`input[name=${kind}]`)];
    const line = lines.find(l => l.value.trim() === "") ?? this.another(lines[lines.length - 1]);
    line.value = `${box.x},${box.y},${box.width},${box.height}: `;
    line.closest("details")?.setAttribute("open", "");
    this.take(null);
    line.focus();
    this.told(kind === "out" ? "Write why this area is left out." : "Write which class this area shows.");
  }

  another(line) {
    const row = line.closest(".area").cloneNode(true), input = row.querySelector("input"), button = row.querySelector("[data-remove]");
    input.id = `${line.name}-${this.form.querySelectorAll(`input[name=${line.name}]`).length + 1}`;
    button.dataset.remove = input.id;
    line.closest(".area").after(row);
    return input;
  }

  paint(pen) {
    for (const [kind, colour] of [["out", "#ffffff"], ["mark", "#7fd4ff"]])
      for (const input of this.form.querySelectorAll(`input[name=${kind}]`)) this.area(pen, input.value, colour, kind);
    if (this.drawn) this.area(pen, `${this.drawn.x},${this.drawn.y},${this.drawn.width},${this.drawn.height}:`, "#ffffff", "out");
    const ends = this.line ?? this.ends();
    if (ends) this.measure(pen, ends);
  }

  ends() {
    const n = this.form.elements.ends.value.split(/[ ,]+/).map(Number);
    return n.length === 4 && n.every(Number.isFinite) ? [{ x: n[0], y: n[1] }, { x: n[2], y: n[3] }] : null;
  }

  measure(pen, [a, b]) {
    const p = this.viewer.toScreen(a.x, a.y), q = this.viewer.toScreen(b.x, b.y);
    pen.lineWidth = 2.5;
    pen.strokeStyle = "#7fd4ff";
    pen.beginPath();
    pen.moveTo(p.x, p.y - 7); pen.lineTo(p.x, p.y + 7); pen.moveTo(p.x, p.y); pen.lineTo(q.x, q.y); pen.moveTo(q.x, q.y - 7); pen.lineTo(q.x, q.y + 7);
    pen.stroke();
  }

  area(pen, text, colour, kind) {
    const colon = text.indexOf(":"), groups = (colon < 0 ? text : text.slice(0, colon)).trim().split(/\s+/).map(g => g.split(",").map(Number));
    if (!groups.flat().every(Number.isFinite)) return;
    const corners = groups.length === 1 && groups[0].length === 4
      ? (([x, y, w, h]) => [[x, y], [x + w, y], [x + w, y + h], [x, y + h]])(groups[0])
      : groups.length > 2 ? groups : null;
    if (!corners) return;
    pen.beginPath();
    corners.forEach(([x, y], i) => {
      const at = this.viewer.toScreen(x, y);
      if (i) pen.lineTo(at.x, at.y); else pen.moveTo(at.x, at.y);
    });
    pen.closePath();
    pen.fillStyle = kind === "out" ? "rgba(0,0,0,.45)" : "rgba(127,212,255,.14)";
    pen.fill();
    pen.lineWidth = 2;
    pen.strokeStyle = colour;
    pen.stroke();
    const at = this.viewer.toScreen(corners[0][0], corners[0][1]), says = colon < 0 ? "" : text.slice(colon + 1).trim();
    if (!says) return;
    pen.font = "600 13px sans-serif";
    pen.lineWidth = 3;
    pen.strokeStyle = "#000";
    pen.strokeText(says, at.x + 5, at.y + 16);
    pen.fillStyle = colour;
    pen.fillText(says, at.x + 5, at.y + 16);
  }
}
