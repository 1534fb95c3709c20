// Applied before the first paint, so that a dark page never flashes light. "system" follows the machine.
(() => {
  const kept = localStorage.getItem("probeside.theme");
  if (kept === "light" || kept === "dark") document.documentElement.dataset.theme = kept;
})();
