// [data-clock="2530"]: seconds when the page was made; counts on from there, by the page's own stopwatch and not by the
// terminal's clock, which may be wrong. A page that comes back from the browser's memory is read again.
(() => {
  const faces = [...document.querySelectorAll('[data-clock]')];
  if (!faces.length) return;
  const begun = performance.now();
  const two = n => String(n).padStart(2, '0');
  const show = () => faces.forEach(face => {
    const s = Number(face.dataset.clock) + Math.floor((performance.now() - begun) / 1000);
    face.textContent = `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}`;
  });
  show();
  setInterval(show, 1000);
  addEventListener('pageshow', event => { if (event.persisted) location.reload(); });
})();
