// Applied before the first paint, so that a dark page never flashes light. "system" follows the machine.
(() => {
  const kept = localStorage.getItem("probeside.theme");
  if (kept === "light" || kept === "dark") document.documentElement.dataset.theme = kept;
})();

// Where a module cannot be had, the page would wait for ever: it says what to do instead.
addEventListener("error", (event) => {
  if (!(event.target instanceof HTMLScriptElement)) return;
  const place = document.querySelector(".starting");
  if (place) place.textContent = "A part of this page is missing. In the project's folder, run “make page”, then load the page again.";
}, true);
