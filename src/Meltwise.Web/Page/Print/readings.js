// Typing at the machine. Every reading goes out as Enter is pressed; if the program does not answer, the figure is kept here and sent when it does.
const form = document.getElementById("cell");
const field = document.getElementById("val");
const says = document.getElementById("saved");

const follow = key => {
  const target = document.querySelector(`[data-key="${CSS.escape(key)}"]`);
  if (!target) return false;
  target.click();
  return true;
};

document.addEventListener("keydown", event => {
  if (event.target.closest(".filter")) return;
  const key = event.key.toLowerCase();
  let done = false;
  if (event.ctrlKey || event.metaKey) done = key === "z" && follow("ctrl+z");
  else if (event.altKey) return;
  else if (event.key === "ArrowUp") done = follow("ArrowUp");
  else if (key === "h" && field) { document.getElementById("notbroken").value = "true"; form.requestSubmit(); done = true; }
  else done = follow(key);
  if (done) event.preventDefault();
});

if (form && field) {
  const shelf = `meltwise:${location.pathname}:${form.dataset.cell}`;
  const kept = localStorage.getItem(shelf);
  if (kept && field.value === "") {
    field.value = kept;
    says.textContent = "This figure was typed before and not stored yet. Press Enter to store it.";
  }
  field.select();
  field.addEventListener("input", () => localStorage.setItem(shelf, field.value));

  let sending = false;
  const send = async () => {
    try {
      const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)), redirect: "follow" });
      if (answer.redirected) {
        localStorage.removeItem(shelf);
        location.assign(answer.url);
        return;
      }
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      document.getElementById("says").replaceChildren(...(page.getElementById("says")?.childNodes ?? []));
      if (!page.getElementById("says")) says.textContent = "Not stored: the program answered with a fault. The figure stands in the field.";
      document.getElementById("notbroken").value = "false";
      sending = false;
    } catch {
      says.textContent = "Not stored: the program does not answer. The figure is kept here and is sent as soon as it does.";
      setTimeout(send, 1500);
    }
  };

  form.addEventListener("submit", event => {
    event.preventDefault();
    if (sending) return;
    sending = true;
    send();
  });
}
