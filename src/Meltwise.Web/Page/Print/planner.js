// The odds follow the lines of the planner while they are typed: the page is asked for in the background and its results put in place.
// Without script the button does the same by loading the page.
const form = document.querySelector("form[data-live]");
const shown = document.getElementById(form?.dataset.live ?? "");
let asked = 0, timer;

async function update() {
  const mine = ++asked;
  const query = new URLSearchParams([...new FormData(form)].filter(([, value]) => value !== ""));
  const address = form.getAttribute("action") + "?" + query;
  shown.setAttribute("aria-busy", "true");
  try {
    for (;;) {
      const page = new DOMParser().parseFromString(await (await fetch(address)).text(), "text/html");
      if (mine !== asked) return;
      const next = page.getElementById(form.dataset.live);
      const work = next.querySelector("[data-work]");
      if (work && shown.querySelector("section.part")) {
        await new Promise(resolve => setTimeout(resolve, 400));
        if (mine !== asked) return;
        continue;
      }
      shown.replaceChildren(...next.childNodes);
      document.dispatchEvent(new Event("figures"));
      history.replaceState(null, "", address);
      if (!work) break;
      await new Promise(resolve => setTimeout(resolve, 400));
    }
  } catch {
    // The program does not answer: the results of before stand, and the button loads the page.
  }
  if (mine === asked) shown.removeAttribute("aria-busy");
}

if (form && shown) {
  const later = wait => { clearTimeout(timer); timer = setTimeout(update, wait); };
  form.addEventListener("input", event => later(event.target.tagName === "SELECT" ? 0 : 600));
  form.addEventListener("submit", event => { event.preventDefault(); later(0); });
  // What the bench offers depends on these: the whole page is loaded.
  form.addEventListener("change", event => { if (event.target.dataset.whole !== undefined) { asked++; clearTimeout(timer); form.submit(); } });
}
