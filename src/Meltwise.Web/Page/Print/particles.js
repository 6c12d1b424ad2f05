// The found particles over the picture: outlines of what is in view, and the numbers of one that is pointed at.
const LATER = 140;

export class Particles {
  constructor(viewer, told) {
    this.viewer = viewer;
    this.told = told;
    this.scale = +viewer.root.dataset.micrometres || 0;
    this.source = viewer.root.dataset.particles;
    this.items = [];
    this.chosen = null;
    this.shown = true;
    viewer.painters.push(pen => this.paint(pen));
    viewer.moved.push(() => this.later());
    viewer.clicked.push(at => this.choose(this.under(at)));
    viewer.canvas.addEventListener("keydown", event => this.key(event));
    const button = viewer.root.querySelector("[data-outlines]");
    button.addEventListener("click", () => {
      this.shown = !this.shown;
      button.setAttribute("aria-pressed", this.shown);
      viewer.draw();
    });
    this.later();
  }

  // While a preview is shown, the outlines are those of the preview.
  preview(items, part) {
    this.previewed = items;
    this.part = part;
    this.chosen = null;
    this.viewer.draw();
  }

  later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.fetch(), LATER);
  }

  async fetch() {
    const { x, y, width, height } = this.viewer.box;
    this.stop?.abort();
    this.stop = new AbortController();
    try {
      const answer = await fetch(`${this.source}&box=${x},${y},${width},${height}`, { signal: this.stop.signal });
      if (!answer.ok) {
        this.told(answer.status === 409 ? "The outlines are not at hand any more. Load the page again to draw them." : "The outlines could not be fetched.");
        return;
      }
      const found = await answer.json();
      this.items = found.items;
      this.viewer.root.dataset.drawn = found.items.length;
      this.viewer.draw();
    } catch (fault) {
      if (fault.name !== "AbortError") this.told("The program does not answer; the outlines are those of before.");
    }
  }

  paint(pen) {
    if (this.part) {
      const [x, y, width, height] = this.part, at = this.viewer.toScreen(x, y);
      pen.lineWidth = 1.5;
      pen.strokeStyle = "#fff";
      pen.setLineDash([8, 5]);
      pen.strokeRect(at.x + 1, at.y + 1, width * this.viewer.zoom - 2, height * this.viewer.zoom - 2);
      pen.setLineDash([]);
    }
    if (this.shown) {
      pen.lineWidth = 1.5;
      pen.strokeStyle = "#ff8d4d";
      for (const item of this.previewed ?? this.items) this.outline(pen, item);
    }
    if (this.chosen) {
      pen.lineWidth = 3.5;
      pen.strokeStyle = "#ffd9a8";
      this.outline(pen, this.chosen);
    }
  }

  outline(pen, item) {
    const [, x, y, major, minor, angle, cut] = item, loops = item[13], zoom = this.viewer.zoom;
    pen.setLineDash(cut ? [4, 3] : []);
    pen.beginPath();
    if (loops && zoom * major > 6) {
      for (const loop of loops) {
        for (let i = 0; i < loop.length; i += 2) {
          const at = this.viewer.toScreen(loop[i], loop[i + 1]);
          if (i) pen.lineTo(at.x, at.y); else pen.moveTo(at.x, at.y);
        }
        pen.closePath();
      }
    } else {
      const at = this.viewer.toScreen(x, y);
      pen.ellipse(at.x, at.y, Math.max(1.5, major * zoom / 2), Math.max(1.5, minor * zoom / 2), angle * Math.PI / 180, 0, 2 * Math.PI);
    }
    pen.stroke();
    pen.setLineDash([]);
  }

  under(at) {
    const near = 3 / this.viewer.zoom;
    let best = null, least = 1;
    for (const item of this.previewed ? [] : this.items) {
      const [, x, y, major, minor, angle] = item, turn = -angle * Math.PI / 180;
      const dx = at.x - x, dy = at.y - y;
      const u = (dx * Math.cos(turn) - dy * Math.sin(turn)) / (major / 2 + near), v = (dx * Math.sin(turn) + dy * Math.cos(turn)) / (minor / 2 + near);
      if (u * u + v * v <= least) { least = u * u + v * v; best = item; }
    }
    return best;
  }

  choose(item) {
    this.chosen = item;
    this.told(item ? this.says(item) : "");
    this.viewer.draw();
  }

  says(item) {
    const [number, x, y, , , angle, cut, diameter, feretMax, feretMin, area, grey, greyClass] = item;
    const unit = this.scale ? "\u00A0µm" : "\u00A0px", s = this.scale || 1;
    const n = v => Number(v.toPrecision(3)).toString();
    return `Particle ${number}: diameter ${n(diameter * s)}${unit}, longest ${n(feretMax * s)}${unit}, narrowest ${n(feretMin * s)}${unit}, area ${n(area * s * s)}${unit}², direction ${Math.round(angle)}°, `
      + `grey ${Math.round(grey)}${greyClass > 1 ? `, class ${greyClass}` : ""}, at column ${Math.round(x)}, row ${Math.round(y)}.${cut ? " Cut by the frame or an area left out: its size is not known." : ""}`;
  }

  // L goes through the particles in view from the largest down, so that the keyboard reaches every one.
  key(event) {
    if (event.key === "Escape" && this.chosen) this.choose(null);
    else if (event.key.toLowerCase() === "l" && this.items.length && !event.ctrlKey && !event.metaKey && !event.altKey) {
      const order = [...this.items].sort((a, b) => b[10] - a[10]), at = order.findIndex(i => i[0] === this.chosen?.[0]);
      this.choose(order[(at + (event.shiftKey ? order.length - 1 : 1) + (at < 0 && event.shiftKey ? 1 : 0)) % order.length]);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }
}
