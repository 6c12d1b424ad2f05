// Keys that work on every page: "/" goes to the search.
document.addEventListener("keydown", event => {
  const typing = event.target.closest("input, textarea, select, [contenteditable]");
  if (event.key !== "/" || typing || event.ctrlKey || event.metaKey || event.altKey) return;
  event.preventDefault();
  const field = document.querySelector("input[type=search]");
  if (field) field.focus();
  else location.href = document.querySelector(".running .find").href;
});

// A choice in a filter sentence takes effect at once; the button beside it is for pages without script.
for (const form of document.querySelectorAll("form.filter")) {
  form.addEventListener("change", () => form.requestSubmit());
  for (const button of form.querySelectorAll("button.noscript")) button.hidden = true;
}

// The part of a long sheet that is being read is marked in its list of parts.
const parts = [...document.querySelectorAll(".parts a")];
if (parts.length > 0) {
  const mark = () => {
    let current = parts[0];
    for (const link of parts) {
      const part = document.getElementById(link.hash.slice(1));
      if (part && part.getBoundingClientRect().top < 120) current = link;
    }
    for (const link of parts) link.toggleAttribute("aria-current", link === current);
  };
  document.addEventListener("scroll", mark, { passive: true });
  mark();
}
