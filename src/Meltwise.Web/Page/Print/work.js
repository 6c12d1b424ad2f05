// Work in hand: asks how far it has come, draws the line, and loads the page again when it has ended.
// A page on which something was typed meanwhile is not loaded again; it says that the result is there.
const written = { any: false };
document.addEventListener("input", () => { written.any = true; });

for (const work of document.querySelectorAll("[data-work]")) {
  const line = work.querySelector("progress");
  const says = work.querySelector(".work-says");
  const ended = text => {
    if (!written.any) {
      location.reload();
      return;
    }
    const link = document.createElement("a");
    link.href = location.href;
    link.textContent = "Load the page again to see it.";
    link.addEventListener("click", event => { event.preventDefault(); location.reload(); });
    says.replaceChildren(`${text} What you typed stands until you do. `, link);
    line.value = 1;
  };
  const ask = async () => {
    try {
      const told = await (await fetch(work.dataset.work)).json();
      if (!told.running) {
        ended(told.says);
        return;
      }
      line.value = told.fraction;
      says.textContent = told.says;
    } catch {
      says.textContent = "The program does not answer; it is asked again.";
    }
    setTimeout(ask, 500);
  };
  setTimeout(ask, 300);
}
