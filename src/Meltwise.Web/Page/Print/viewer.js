// A picture of any size in a frame: tiles by level, moved by mouse, wheel, fingers, keys and buttons. It knows nothing of steel.
const TILE = 256;
const MOST_TILES = 260;
const LARGEST_ZOOM = 32;

export class Viewer {
  constructor(root) {
    this.root = root;
    this.width = +root.dataset.width;
    this.height = +root.dataset.height;
    this.levels = +root.dataset.levels;
    this.tilesAt = root.dataset.tiles;
    this.canvas = root.querySelector("canvas");
    this.pen = this.canvas.getContext("2d");
    this.tiles = new Map();
    this.painters = [];
    this.moved = [];
    this.clicked = [];
    this.tool = null;
    this.pointers = new Map();
    new ResizeObserver(() => this.resize()).observe(this.canvas);
    this.resize();
    this.whole();
    this.listen();
  }

  resize() {
    const sharp = window.devicePixelRatio || 1;
    const box = this.canvas.getBoundingClientRect();
    this.seenWidth = box.width;
    this.seenHeight = box.height;
    this.canvas.width = Math.round(box.width * sharp);
    this.canvas.height = Math.round(box.height * sharp);
    this.sharp = sharp;
    if (this.fitted) this.whole();
    this.changed();
  }

  get fit() { return Math.min(this.seenWidth / this.width, this.seenHeight / this.height); }

  whole() {
    this.zoom = this.fit;
    this.left = (this.width - this.seenWidth / this.zoom) / 2;
    this.top = (this.height - this.seenHeight / this.zoom) / 2;
    this.fitted = true;
    this.changed();
  }

  zoomTo(zoom, x = this.seenWidth / 2, y = this.seenHeight / 2) {
    const before = this.toPicture(x, y);
    this.zoom = Math.min(LARGEST_ZOOM, Math.max(Math.min(this.fit, 1) / 2, zoom));
    this.left = before.x - x / this.zoom;
    this.top = before.y - y / this.zoom;
    this.fitted = false;
    this.changed();
  }

  move(dx, dy) {
    const roomX = this.seenWidth / this.zoom / 2, roomY = this.seenHeight / this.zoom / 2;
    this.left = Math.min(this.width - roomX, Math.max(-roomX, this.left + dx));
    this.top = Math.min(this.height - roomY, Math.max(-roomY, this.top + dy));
    this.fitted = false;
    this.changed();
  }

  centre(x, y, zoom) {
    this.zoom = Math.max(zoom, this.fit);
    this.left = x - this.seenWidth / this.zoom / 2;
    this.top = y - this.seenHeight / this.zoom / 2;
    this.fitted = false;
    this.changed();
  }

  toPicture(x, y) { return { x: this.left + x / this.zoom, y: this.top + y / this.zoom }; }

  toScreen(x, y) { return { x: (x - this.left) * this.zoom, y: (y - this.top) * this.zoom }; }

  get box() {
    const x = Math.max(0, Math.floor(this.left)), y = Math.max(0, Math.floor(this.top));
    return {
      x, y,
      width: Math.max(0, Math.min(this.width, Math.ceil(this.left + this.seenWidth / this.zoom)) - x),
      height: Math.max(0, Math.min(this.height, Math.ceil(this.top + this.seenHeight / this.zoom)) - y),
    };
  }

  changed() {
    for (const told of this.moved) told();
    this.draw();
  }

  draw() {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => { this.waiting = false; this.paint(); });
  }

  paint() {
    const pen = this.pen;
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, this.canvas.width, this.canvas.height);
    pen.setTransform(this.sharp, 0, 0, this.sharp, 0, 0);
    const wanted = Math.floor(Math.log2(1 / (this.zoom * this.sharp)) + 0.01);
    const level = Math.min(this.levels - 1, Math.max(0, wanted));
    pen.imageSmoothingEnabled = this.zoom * this.sharp < 3;
    // Coarser tiles that are there already fill in while finer ones are fetched.
    for (let l = this.levels - 1; l > level; l--) this.paintLevel(l, false);
    this.paintLevel(level, true);
    for (const paint of this.painters) paint(pen, this);
  }

  paintLevel(level, fetching) {
    const side = TILE * 2 ** level, box = this.box;
    for (let row = Math.floor(box.y / side); row * side < box.y + box.height; row++)
      for (let column = Math.floor(box.x / side); column * side < box.x + box.width; column++) {
        const image = this.tile(level, column, row, fetching);
        if (!image?.ready) continue;
        const at = this.toScreen(column * side, row * side), scale = this.zoom * 2 ** level;
        // A hair wider, so that no seam shows between tiles.
        this.pen.drawImage(image, at.x, at.y, image.naturalWidth * scale + 0.4, image.naturalHeight * scale + 0.4);
      }
  }

  tile(level, column, row, fetching) {
    const key = `${level}/${column}/${row}`;
    let image = this.tiles.get(key);
    if (image) {
      this.tiles.delete(key);
      this.tiles.set(key, image);
      return image;
    }
    if (!fetching) return null;
    image = new Image();
    image.onload = () => { image.ready = true; this.draw(); };
    image.onerror = () => this.tiles.delete(key);
    image.src = `${this.tilesAt}/${key}`;
    this.tiles.set(key, image);
    if (this.tiles.size > MOST_TILES) this.tiles.delete(this.tiles.keys().next().value);
    return image;
  }

  listen() {
    const canvas = this.canvas;
    canvas.addEventListener("wheel", event => {
      event.preventDefault();
      this.zoomTo(this.zoom * Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0016)), event.offsetX, event.offsetY);
    }, { passive: false });
    canvas.addEventListener("pointerdown", event => this.down(event));
    canvas.addEventListener("pointermove", event => this.drag(event));
    for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, event => this.up(event));
    canvas.addEventListener("keydown", event => this.key(event));
    for (const button of this.root.querySelectorAll("[data-view]"))
      button.addEventListener("click", () => this.act(button.dataset.view));
  }

  down(event) {
    if (event.button > 0) return;
    this.canvas.setPointerCapture(event.pointerId);
    this.pointers.set(event.pointerId, { x: event.offsetX, y: event.offsetY });
    this.still = this.pointers.size === 1;
    if (this.tool && this.pointers.size === 1) this.tool.down(this.toPicture(event.offsetX, event.offsetY));
  }

  drag(event) {
    const was = this.pointers.get(event.pointerId);
    if (!was) return;
    const now = { x: event.offsetX, y: event.offsetY };
    if (this.pointers.size === 2) this.pinch(event.pointerId, was, now);
    else if (this.tool) this.tool.move(this.toPicture(now.x, now.y));
    else if (!this.still || Math.hypot(now.x - was.x, now.y - was.y) > 3) {
      this.still = false;
      this.move((was.x - now.x) / this.zoom, (was.y - now.y) / this.zoom);
    } else return;
    this.pointers.set(event.pointerId, now);
  }

  pinch(id, was, now) {
    const other = [...this.pointers].find(([key]) => key !== id)[1];
    const factor = Math.hypot(now.x - other.x, now.y - other.y) / Math.max(1, Math.hypot(was.x - other.x, was.y - other.y));
    this.still = false;
    this.zoomTo(this.zoom * factor, (now.x + other.x) / 2, (now.y + other.y) / 2);
  }

  up(event) {
    if (!this.pointers.delete(event.pointerId)) return;
    const at = this.toPicture(event.offsetX, event.offsetY);
    if (this.tool) this.tool.up(at);
    else if (this.still && event.type === "pointerup") for (const told of this.clicked) told(at);
  }

  act(what) {
    if (what === "in") this.zoomTo(this.zoom * 1.5);
    else if (what === "out") this.zoomTo(this.zoom / 1.5);
    else if (what === "whole") this.whole();
    else if (what === "one") this.zoomTo(1 / this.sharp);
    else return false;
    return true;
  }

  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const step = (event.shiftKey ? 0.5 : 0.12) * Math.min(this.seenWidth, this.seenHeight) / this.zoom;
    const steps = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key];
    const what = { "+": "in", "=": "in", "-": "out", 0: "whole", 1: "one" }[event.key];
    if (steps) this.move(...steps);
    else if (!(what && this.act(what))) return;
    event.preventDefault();
    event.stopPropagation();
  }
}
