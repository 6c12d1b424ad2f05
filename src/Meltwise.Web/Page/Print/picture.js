// The page of one picture: the viewer, the particles over it, marked areas, and settings that answer at once on a preview.
import { Viewer } from "./viewer.js";
import { Particles } from "./particles.js";
import { Areas } from "./areas.js";

const LATER = 90;
const root = document.querySelector(".viewer");
const form = document.getElementById("settings");
const says = root.querySelector(".says");
const tell = text => { says.textContent = text; };
const viewer = new Viewer(root);
const particles = root.dataset.particles ? new Particles(viewer, tell) : null;
if (form) new Areas(viewer, form, tell);
viewer.painters.push(scaleBar);

// A slider moves the number beside it; an empty number is chosen from the picture, and the slider stands where that choice fell.
for (const slider of document.querySelectorAll("input[type=range][data-for]")) {
  const number = document.getElementById(slider.dataset.for);
  slider.closest(".slide").classList.add("on");
  const follow = () => { const v = parseFloat((number.value || number.placeholder).replace(",", ".")); if (Number.isFinite(v)) slider.value = v; };
  follow();
  number.addEventListener("input", follow);
  slider.addEventListener("input", () => {
    number.value = slider.value;
    number.dispatchEvent(new Event("input", { bubbles: true }));
  });
}

let timer, stop;
const soon = wait => { clearTimeout(timer); timer = setTimeout(preview, wait); };
form?.addEventListener("input", () => soon(LATER));
// Of a large picture only a part is tried; it follows the view.
viewer.moved.push(() => { if (particles?.part) soon(3 * LATER); });

async function preview() {
  stop?.abort();
  stop = new AbortController();
  // A line without its reason or class is not finished; it waits.
  const sent = new URLSearchParams([...new FormData(form)].filter(([name, value]) => value !== "" && !(/^(out|mark)$/.test(name) && /:\s*$/.test(value))));
  const { x, y, width, height } = viewer.box;
  sent.set("box", `${x},${y},${width},${height}`);
  try {
    const answer = await fetch(`${root.dataset.preview}?${sent}`, { signal: stop.signal });
    if (!answer.ok) { tell(await answer.text()); return; }
    const found = await answer.json();
    particles?.preview(found.items, found.part);
    tell(found.says);
    root.classList.add("previewing");
  } catch (fault) {
    if (fault.name !== "AbortError") tell("The program does not answer; the preview is that of before.");
  }
}

function scaleBar(pen) {
  const scale = +root.dataset.micrometres || 0, unit = scale || 1;
  const wanted = viewer.seenWidth / viewer.zoom * unit / 5, power = 10 ** Math.floor(Math.log10(wanted));
  const length = power * [5, 2, 1].find(s => s * power <= wanted), px = length / unit * viewer.zoom;
  const words = `${Number(length.toPrecision(3))}\u00A0${scale ? "µm" : "px"}`, y = viewer.seenHeight - 18;
  pen.font = "600 14px sans-serif";
  pen.fillStyle = "rgba(0,0,0,.72)";
  pen.fillRect(12, y - 24, Math.max(px, pen.measureText(words).width) + 20, 34);
  pen.fillStyle = "#fff";
  pen.fillRect(22, y, px, 3);
  pen.fillText(words, 22, y - 7);
}
