// Light, dark, or as the device says; chosen before anything is drawn.
(() => {
  const order = ["auto", "light", "dark"];
  const read = () => {
    try { return localStorage.getItem("recap.theme") || "auto"; } catch { return "auto"; }
  };
  document.documentElement.dataset.theme = read();
  document.addEventListener("click", (event) => {
    if (!(event.target instanceof Element) || event.target.id !== "theme") return;
    const next = order[(order.indexOf(read()) + 1) % order.length];
    try { localStorage.setItem("recap.theme", next); } catch { /* private mode: for this page only */ }
    document.documentElement.dataset.theme = next;
    event.target.textContent = `Light or dark: ${next}`;
  });
})();
